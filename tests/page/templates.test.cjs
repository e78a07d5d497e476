// Templates as drawings: a browser lays a millimetre of an SVG file out as 96/25.4 of its pixels (CSS Values 3, 5.2), and
// what is drawn must be as long as the source says, to 0.1 mm.
const assert = require("node:assert/strict");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");
const { test } = require("node:test");
const { pathToFileURL } = require("node:url");
const { chromium } = require("playwright-core");

const OPTIONS = { executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] };
const examples = path.join(__dirname, "../../examples");

test("a drawn template is of true scale in a browser", async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "template-"));
  t.after(() => fs.rmSync(folder, { recursive: true }));
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  const drawn = {};
  for (const name of ["cover-gasket", "brush-card"]) {
    const file = path.join(folder, `${name}.svg`);
    execFileSync(process.env.LOCKNUT, ["template", name, "--library", examples, "--as", "svg", "--into", file], { stdio: "pipe" });
    await page.goto(pathToFileURL(file).href);
    drawn[name] = await page.evaluate(() => [...document.querySelectorAll("path, circle")].map(shape => {
      const [box, on] = [shape.getBBox(), shape.getScreenCTM()];
      const mm = length => length * 25.4 / 96;
      return { at: [mm(on.e + box.x * on.a), mm(on.f + box.y * on.d)], size: [mm(box.width * on.a), mm(box.height * on.d)] };
    }));
  }
  const near = (found, wanted, what) => found.forEach((length, at) => assert.ok(Math.abs(length - wanted[at]) < 0.1, `${what}: ${found}, wanted ${wanted}`));
  for (const [name, shapes] of Object.entries(drawn)) near(shapes[0].size, [100, 40], `${name}, the lines that prove the scale`);
  const [, disc, hole, ...holes] = drawn["cover-gasket"];
  near(disc.size, [62, 62], "disc");
  near(hole.size, [38, 38], "hole");
  // 50 mm · sin 45° = 35.36 mm from one to the next.
  assert.equal(holes.length, 4);
  near([holes[0].at[0] - holes[3].at[0], holes[1].at[1] - holes[0].at[1]], [35.36, 35.36], "pitch circle");
  near(drawn["brush-card"][1].size, [60, 30], "card");
});
