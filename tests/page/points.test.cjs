// A subtask at two points, done on a phone: each reading keeps its point, the record is the terminal's, nothing lies beyond
// the edge; and on paper nothing that must be read is white.
const assert = require("node:assert/strict");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const locknut = process.env.LOCKNUT;
assert.ok(locknut, "tests/run sets LOCKNUT");
const SOURCE = `instrument rule { measures length 0 .. 50 mm, resolution 0.5 mm, error 0.25 mm }
consumable shims { sizes 1.0 mm "A", 2.0 mm "B", 3.0 mm "C" }
assembly brake {
  state band : tight, loose
  safe to leave when band is tight
}
model winch {
  title "Winch"
  made of brake at left, right
  danger "The band springs back." at cover
  part cover
}
subtask read-gap on brake {
  title "Read the gap"
  step gap "Open it, and read what there is." {
    measure gap using rule, expect 0 .. 20 mm {
      accept 2.0 .. 4.0 mm
      otherwise { confirm "The band lies free." } then repeat gap up to 2 times, failing that { set band to tight } then refer to "The maker, with {gap}"
    }
  }
  step "Shim it." {
    choose shim from shims so that play is 0 .. 1.5 mm, where play = gap - shim, prefer largest
    check rest = gap - shim {
      accept at most 0.2 mm
      otherwise go on noting "Left over: {rest} of {gap}."
    }
  }
}
subtask set-gap on brake {
  title "Set the gap"
  step "Loosen it." { set band to loose }
  do read-gap
  step "Tighten it." { set band to tight }
}
procedure look on winch {
  title "Look"
  step "Open it." { remove cover }
  observe slips "Does it slip?" {
    yes -> do set-gap at left, right then go on
    no -> go on
  }
  step "Close it." { fit cover }
}
`;
const OPTIONS = {
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
};

const beyond = page => page.evaluate(() => [...document.querySelectorAll("main *")]
  .filter(one => one.checkVisibility() && !one.closest("details:not([open]), table") && one.getBoundingClientRect().right > innerWidth)
  .map(one => `${one.tagName} ${one.textContent}`));
const overlapping = page => page.evaluate(() => [...document.querySelectorAll(".step-head")]
  .filter(head => { const [number, words] = [...head.children].map(one => one.getBoundingClientRect()); return number.right > words.left; })
  .map(head => head.textContent));
const small = page => page.evaluate(() => [...document.querySelectorAll("button, input, select, summary")]
  .filter(one => one.checkVisibility() && Math.min(one.offsetWidth, one.offsetHeight) < 44).map(one => `${one.tagName} ${one.textContent}`));

test("a subtask at two points is done on a phone as in the terminal", async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "locknut-"));
  fs.writeFileSync(path.join(folder, "library.yaml"), "publisher: The corner workshop\n");
  fs.writeFileSync(path.join(folder, "winch.lkn"), SOURCE);
  execFileSync(locknut, ["build", folder, "--into", path.join(folder, "out")], { stdio: "pipe" });
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const context = await browser.newContext({ acceptDownloads: true, viewport: { width: 360, height: 740 } });
  const page = await context.newPage();
  await page.goto(`file://${path.join(folder, "out", "look", "check-program.html")}`);
  const line = text => page.locator("form.line.open", { hasText: text });
  const press = (text, button) => line(text).getByRole("button", { name: button, exact: true }).click();
  await line("Take off the cover.").waitFor();
  assert.deepEqual(await beyond(page), [], "nothing lies beyond the edge");
  assert.deepEqual(await overlapping(page), [], "no number lies over words");
  assert.deepEqual(await small(page), [], "a glove meets every button");
  await press("Take off the cover.", "Done");
  await press("Does it slip?", "yes");
  for (const [side, gap] of [["left", "2.5"], ["right", "3.0"]]) {
    await press(`Bring the band at ${side} to “loose”.`, "Done");
    await line("Measure the gap").locator("input").fill(gap);
    await press("Measure the gap", "Enter");
    await press(`Choose the shim (${side}).`, "Work out");
    await press(`Work out the rest (${side}).`, "Work out");
    await press(`Bring the band at ${side} to “tight”.`, "Done");
  }
  await press("Fit the cover.", "Done");
  await page.locator("#end .ended.done").waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#save").click()]);
  const record = JSON.parse(fs.readFileSync(await download.path(), "utf8"));
  const told = name => record.entries.filter(entry => entry.name === name).map(entry => `${entry.values[0].point} ${entry.values[0].text}`);
  assert.deepEqual([told("gap"), told("shim"), told("rest")], [["left 2.5", "right 3.0"], ["left 2.0 mm", "right 3.0 mm"], ["left 0.5", "right 0.0"]]);
  assert.deepEqual(record.entries.map(entry => entry.noting).filter(Boolean), ["Left over: left 0.5 mm of left 2.5 mm."]);
  const answers = path.join(folder, "answers.yaml");
  fs.writeFileSync(answers, "readings:\n  slips: [\"yes\"]\n  gap: [\"2.5\", \"3.0\"]\n");
  const terminal = JSON.parse(execFileSync(locknut, ["run", "look", "--library", folder, "--answers", answers], { encoding: "utf8" }));
  const timeless = one => ({ ...one, entries: one.entries.map(({ at, before, hash, ...entry }) => entry), end: { ...one.end, head: "" } });
  assert.deepEqual(timeless(record), timeless(terminal));
});

test("on paper nothing that must be read is white, and the lists are open", async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "locknut-"));
  fs.writeFileSync(path.join(folder, "library.yaml"), "publisher: The corner workshop\n");
  fs.writeFileSync(path.join(folder, "winch.lkn"), SOURCE);
  execFileSync(locknut, ["build", folder, "--into", path.join(folder, "out")], { stdio: "pipe" });
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  await page.goto(`file://${path.join(folder, "out", "look", "check-program.html")}`);
  await page.locator("form.line.open").first().waitFor();
  await page.emulateMedia({ media: "print" });
  const white = await page.evaluate(() => [...document.querySelectorAll(".leave, .panel .word")].map(one => getComputedStyle(one).color));
  assert.ok(white.length > 1, "there is a panel and a bar");
  assert.deepEqual(white.filter(colour => colour === "rgb(255, 255, 255)"), []);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  assert.ok(await page.locator("details.lists").evaluate(one => one.open));
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  assert.ok(!await page.locator("details.lists").evaluate(one => one.open));
});
