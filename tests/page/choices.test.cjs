// One test, four runners: what is chosen at every reading of random choices, by brute force, by the proof's table and by
// the terminal (which the file with the cases was written by, where they agree), and here by the page's own code in real Chromium.
const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const file = process.env.LOCKNUT_CHOICES;
assert.ok(file, "tests/run sets LOCKNUT_CHOICES");
const runtime = path.join(__dirname, "../../compiler/outputs/page/src/runtime");
const OPTIONS = { executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] };

test("terminal and browser choose alike", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  const content = ["exact.js", "walk.js"].map(name => fs.readFileSync(path.join(runtime, name), "utf8")).join("\n");
  await page.addScriptTag({ content });
  const lines = fs.readFileSync(file, "utf8").trim().split("\n");
  let fitting = 0, nothing = 0, stacks = 0;
  for (const line of lines) {
    const { graph, node, cases } = JSON.parse(line);
    if (!graph) continue;
    const chosen = await page.evaluate(({ graph, node, texts }) => texts.map(text => {
      const walk = new Walk(graph);
      const { act } = walk.node();
      const reading = graph.readings[act.reading];
      const unit = graph.units[`${reading.unit} ${reading.kind}`.trim()];
      walk.readings.set(act.reading, { numbers: [plus(times(typed(text), exact(unit.factor)), exact(unit.zero))] });
      walk.go("next");
      if (walk.at !== node) throw new Error(`another line is open: ${walk.at}`);
      return chosenValues(walk.node().act, walk.choose(walk.node().act)).map(value => `${value.text} ${value.unit}`.trim());
    }), { graph, node, texts: cases.map(([text]) => text) });
    cases.forEach(([text, expected], at) => {
      assert.deepEqual(chosen[at], expected, `${text}: ${JSON.stringify(graph.nodes[node].act)}`);
      fitting += expected.length > 0 ? 1 : 0;
      nothing += expected.length === 0 ? 1 : 0;
      stacks += expected.length > 1 ? 1 : 0;
    });
  }
  assert.ok(fitting > 1_000 && nothing > 500 && stacks > 150, `${fitting} ${nothing} ${stacks}`);
});
