// Tables looked up by the compiler (which wrote the file) and here by the page's own code in real Chromium: the same
// fraction to the last digit, or nothing in both.
const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const file = process.env.LOCKNUT_LOOK_UPS;
assert.ok(file, "tests/run sets LOCKNUT_LOOK_UPS");
const runtime = path.join(__dirname, "../../compiler/outputs/page/src/runtime");
const OPTIONS = { executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] };

test("compiler and browser look up alike", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  const content = ["exact.js", "walk.js"].map(name => fs.readFileSync(path.join(runtime, name), "utf8")).join("\n");
  await page.addScriptTag({ content });
  let compared = 0, empty = 0;
  const met = new Set();
  for (const { lookUp, cases } of JSON.parse(fs.readFileSync(file, "utf8"))) {
    const found = await page.evaluate(({ lookUp, keys }) => keys.map(key => {
      const value = lookedUp(lookUp, exact(key));
      return value && (value.d === 1n ? `${value.n}` : `${value.n}/${value.d}`);
    }), { lookUp, keys: cases.map(([key]) => key) });
    cases.forEach(([key, expected], at) => assert.equal(found[at], expected, `${key} in ${JSON.stringify(lookUp)}`));
    compared += cases.length;
    empty += cases.filter(([, value]) => value === null).length;
    met.add(lookUp.between);
  }
  assert.ok(compared >= 30_000 && empty > 1_000, `${compared} look-ups, ${empty} of nothing`);
  assert.deepEqual([...met].sort(), ["in proportion", "nothing", "take next lower"]);
});
