// One test, three runners: readings at and around limits, judged by the compiler and the terminal (which the file
// with the cases was written by, where they agree) and here by the page's own code in real Chromium.
const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const file = process.env.LOCKNUT_VERDICTS;
assert.ok(file, "tests/run sets LOCKNUT_VERDICTS");
const runtime = path.join(__dirname, "../../compiler/outputs/page/src/runtime");
const OPTIONS = { executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] };

test("compiler, terminal and browser judge alike", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  const content = ["exact.js", "walk.js"].map(name => fs.readFileSync(path.join(runtime, name), "utf8")).join("\n");
  await page.addScriptTag({ content });
  const subjects = JSON.parse(fs.readFileSync(file, "utf8"));
  let judged = 0;
  const met = new Set();
  for (const { graph, node, cases } of subjects) {
    const verdicts = await page.evaluate(({ graph, node, texts }) => {
      const walk = new Walk(graph);
      if (walk.at !== node) throw new Error(`another line is open: ${walk.at}`);
      const { act } = walk.node();
      const reading = graph.readings[act.reading];
      const unit = graph.units[`${reading.unit} ${reading.kind}`.trim()];
      return texts.map(text => walk.judge(act.verdict, { numbers: [plus(times(typed(text), exact(unit.factor)), exact(unit.zero))] }));
    }, { graph, node, texts: cases.map(([text]) => text) });
    cases.forEach(([text, expected], at) => {
      assert.equal(verdicts[at], expected, `${text}: ${JSON.stringify(graph.nodes[node].act.verdict)}`);
      met.add(expected);
    });
    judged += cases.length;
  }
  assert.ok(judged >= 100_000, `${judged} readings`);
  assert.deepEqual([...met].sort(), ["accepted", "otherwise", "undecided"]);
});

test("a figure is shown on the side of its limit on which it is judged", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  await page.addScriptTag({ content: fs.readFileSync(path.join(runtime, "exact.js"), "utf8") });
  const wrong = await page.evaluate(() => {
    const wrong = [];
    for (let n = 1n; n <= 400n; n += 1n) for (let d = 1n; d <= 16n; d += 1n) {
      const value = ratio(n - 200n, d), limits = [ratio(n / d - 13n), ratio(n - 200n, 10n), ratio((n - 200n) / d)];
      const shown = typed(decimalBeside(value, 0, limits));
      if (!limits.every(limit => compare(shown, limit) === compare(value, limit))) wrong.push(`${value.n}/${value.d}`);
    }
    return wrong;
  });
  assert.deepEqual(wrong, []);
  const shown = await page.evaluate(() => [decimalBeside(ratio(316n, 7n), 0, [ratio(45n)]), decimalBeside(ratio(45n), 0, [ratio(45n)]), decimalBeside(ratio(404n, 20n), 1, [])]);
  assert.deepEqual(shown, ["45.1", "45", "20.2"]);
});
