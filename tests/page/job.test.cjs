// A whole job in real Chromium: one reading out of its limit, followed to its end; the record kept,
// chained, saved, and the same as the terminal's for the same answers.
const assert = require("node:assert/strict");
const { createHash } = require("node:crypto");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const out = process.env.LOCKNUT_OUT;
const locknut = process.env.LOCKNUT;
assert.ok(out && locknut, "tests/run sets LOCKNUT_OUT and LOCKNUT");
const OPTIONS = {
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
};
const addressOf = name => `file://${path.join(out, name, "check-program.html")}`;
const address = addressOf("slew-brake-gap");

// A person at the page: sees the open lines, answers them.
class Person {
  constructor(page) { this.page = page; }
  async begin() {
    await this.page.goto(address);
    await this.page.getByRole("button", { name: "B", exact: true }).click();
    await this.page.locator("#serial").fill("2050");
    await this.page.keyboard.press("Enter");
    await this.open("Tether the jib.");
  }
  line(text) { return this.page.locator("form.line.open", { hasText: text }); }
  async open(text) { await this.line(text).waitFor(); }
  async press(text, button = "Done") { await this.line(text).getByRole("button", { name: button, exact: true }).click(); }
  async enter(text, values) {
    const inputs = this.line(text).locator("input");
    for (const [at, value] of values.entries()) await inputs.nth(at).fill(value);
    await this.press(text, "Enter");
  }
  async error() { return this.page.locator("form.line.open .error").first().textContent(); }
}

const sha = text => createHash("sha256").update(text).digest("hex");
// Written apart from the runtime, after the description in the record's own source.
const recomputed = entry => {
  const field = value => `${Buffer.byteLength(value)}:${value} `;
  const values = entry.values.flatMap(value => [value.point, value.text, value.unit]);
  return sha([entry.before, String(entry.number), entry.at, entry.step, entry.node === null ? "" : String(entry.node), entry.what, entry.name,
    String(entry.values.length), ...values, entry.way, entry.noting ?? ""].map(field).join(""));
};

async function safeAndOpen(person) {
  const { page } = person;
  await person.press("Tether the jib.");
  await person.press("Open the isolator.");
  await person.press("Lock the isolator lock.");
  await person.open("Wait until");
  await person.press("Wait until", "The time has passed");
  assert.match(await person.error(), /Still to wait: (9|10):/, "the wait is not over yet");
  await page.reload();
  await person.open("Wait until");
  await page.clock.fastForward("10:05");
  await person.press("Wait until", "The time has passed");
  await person.enter("Measure the residual", ["0", "1", "0"]);
  for (const line of ["Take out the 8 cover bolts.", "Take off the brake cover.", "Take off the shim pack."]) await person.press(line);
}

test("a job with one reading out of its limit runs to its end", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const context = await browser.newContext({ acceptDownloads: true, locale: "en-GB" });
  const page = await context.newPage();
  const problems = [];
  page.on("pageerror", error => problems.push(error.message));
  page.on("console", message => { if (message.type() === "error") problems.push(message.text()); });
  await page.clock.install({ time: new Date("2026-11-25T08:00:00Z") });
  const person = new Person(page);
  await person.begin();

  // Only what may be done next is open.
  assert.equal(await page.locator("form.line.open").count(), 1);
  assert.equal(await page.locator("form.line.closed button:enabled").count(), 0);
  await safeAndOpen(person);

  // What the gauge cannot show, and what is no number, is refused; nothing is recorded of it.
  await person.enter("Measure the gap", ["0.555", "0.60", "0.60"]);
  assert.match(await person.error(), /does not show such digits/);
  await person.enter("Measure the gap", ["0.50", "many", "0.60"]);
  assert.match(await person.error(), /is not a number/);
  await person.enter("Measure the gap", ["0.20", "0.60", "0.60"]);
  assert.match(await person.error(), /not expected/);

  // Out of its limit: the calliper is aligned, then the gap is measured again.
  await person.enter("Measure the gap", ["0.50", "0.70", "0,60"]);
  await person.press("Work out the spread.", "Work out");
  await person.open("Slacken the 6 calliper bolts.");
  assert.equal(await page.locator(".outcome.taken").count(), 1);
  for (const line of ["Slacken the 6 calliper bolts.", "Fit the calliper peg.", "The calliper touches", "Tighten the 6 calliper bolts", "Take out the calliper peg."]) await person.press(line);
  await person.enter("Measure the gap", ["0.60", "0.65", "0.62"]);
  await person.press("Work out the spread.", "Work out");
  await person.press("Choose the shim.", "Work out");
  for (const line of ["Fit the shim pack", "Fit the brake cover.", "Fit the 8 cover bolts", "Tighten the 8 cover bolts", "Unlock the isolator lock.", "Close the isolator.", "Free the jib."]) await person.press(line);
  await person.press("Does the jib slew", "yes");
  await page.locator("#end .ended.done").waitFor();

  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#save").click()]);
  const record = JSON.parse(fs.readFileSync(await download.path(), "utf8"));
  assert.equal(record.end.how, "done");
  assert.deepEqual(record.end.stands, []);
  let before = "0".repeat(64);
  for (const [at, entry] of record.entries.entries()) {
    assert.equal(entry.number, at + 1);
    assert.equal(entry.before, before);
    assert.equal(entry.hash, recomputed(entry), `entry ${at + 1}`);
    before = entry.hash;
  }
  assert.equal(record.end.head, before);
  const spreads = record.entries.filter(entry => entry.name === "spread");
  assert.deepEqual(spreads.map(entry => [entry.values[0].text, entry.way]), [["0.20", "otherwise"], ["0.05", "accepted"]]);
  assert.equal(record.entries.find(entry => entry.name === "shim").values[0].text, "0.50 mm");

  // A reload keeps the finished job.
  await page.reload();
  await page.locator("#end .ended.done").waitFor();

  // The terminal, given the same answers, writes the same record but for times and what hangs on them.
  const answers = path.join(fs.mkdtempSync(path.join(os.tmpdir(), "locknut-")), "answers.yaml");
  fs.writeFileSync(answers, "series: B\nserial: 2050\nreadings:\n  residual: [[\"0\", \"1\", \"0\"]]\n  gap: [[\"0.50\", \"0.70\", \"0,60\"], [\"0.60\", \"0.65\", \"0.62\"]]\n  noise: [\"yes\"]\n");
  const terminal = JSON.parse(execFileSync(locknut, ["run", "slew-brake-gap", "--library", "procedures", "--answers", answers], { encoding: "utf8" }));
  const timeless = one => ({ ...one, entries: one.entries.map(({ at, before, hash, ...entry }) => entry), end: { ...one.end, head: "" } });
  assert.deepEqual(timeless(record), timeless(terminal));
  assert.deepEqual(problems, []);
});

test("a stop says how the machine is left, and an altered record is refused", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  await page.clock.install({ time: new Date("2026-11-25T08:00:00Z") });
  const person = new Person(page);
  await person.begin();
  for (const line of ["Tether the jib.", "Open the isolator.", "Lock the isolator lock."]) await person.press(line);
  await page.clock.fastForward("10:05");
  await person.press("Wait until", "The time has passed");
  await person.enter("Measure the residual", ["0", "51", "0"]);
  await page.locator("#end .ended.stop").waitFor();
  const end = await page.locator("#end").textContent();
  assert.match(end, /Call the site electrician/);
  assert.match(end, /supply: isolated/);
  // One letter of the stored record is changed behind the program's back.
  await page.evaluate(() => new Promise((resolve, reject) => {
    const request = indexedDB.open("locknut-jobs", 1);
    request.onsuccess = () => {
      const entries = request.result.transaction("entries", "readwrite").objectStore("entries");
      const all = entries.getAll();
      all.onsuccess = () => {
        const changed = all.result[4];
        changed.entry.name += "x";
        entries.put(changed).onsuccess = () => { request.result.close(); resolve(); };
      };
    };
    request.onerror = () => reject(request.error);
  }));
  await page.reload();
  await page.locator(".stop", { hasText: "altered at entry 5" }).waitFor();
});

test("another language and unit system can be switched to in place, and it holds for a screen reader", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  const person = new Person(page);
  await person.begin();
  await page.locator("#edition").selectOption({ label: "de · us" });
  await page.locator("form.line.open", { hasText: "Ausleger festmachen." }).waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.lang), "de");
  await page.evaluate(fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
  const axe = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  assert.deepEqual(axe.violations.map(one => `${one.id}: ${one.nodes.map(node => node.target).join(" ")}`), []);
  // Targets for gloves: 12 mm is 45 px at 96 px an inch.
  const small = await page.locator("button:visible, select:visible").evaluateAll(all => all.filter(one => one.getBoundingClientRect().height < 45).map(one => one.textContent));
  assert.deepEqual(small, []);
});

test("two people side by side wait for each other where one holds for the other", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  await page.clock.install({ time: new Date("2026-11-25T08:00:00Z") });
  const person = new Person(page);
  await page.goto(addressOf("slew-lining-disc"));
  for (const line of ["Tether the jib.", "Open the isolator.", "Lock the isolator lock."]) await person.press(line);
  await page.clock.fastForward("10:05");
  await person.press("Wait until", "The time has passed");
  await person.enter("Measure the residual", ["0", "1", "0"]);
  for (const line of ["Take out the 8 cover bolts.", "Take off the brake cover."]) await person.press(line);

  // The fitter cannot begin before the mate holds; the mate cannot go on before the fitter is done.
  const openLines = async () => (await page.locator("form.line.open").allTextContents()).map(text => text.trim().slice(0, 30));
  assert.equal((await openLines()).length, 1, (await openLines()).join(" | "));
  await person.press("Mate: hold the calliper");
  await person.open("Begin only when the mate holds");
  assert.equal(await person.line("No dust is left").count(), 0);
  for (const line of ["Begin only when", "Take out the 6 calliper bolts.", "Take off the calliper."]) await person.press(line);

  // From here on either may be next, act by act.
  await person.open("Let go only when");
  await person.press("Take off the lining disc.");
  await person.press("Let go only when");
  await person.press("No dust is left");
  await person.press("Fit the new lining disc.");
  await person.open("Mate: hold the calliper");
  for (const line of ["Mate: hold the calliper", "Fit the calliper.", "Fit the 6 calliper bolts", "Apply thread oil", "Tighten the 6 calliper bolts", "Mate: only now let go of the calliper."]) await person.press(line);
  await person.enter("The disc turns free", ["A. Foreman"]);
  for (const line of ["Fit the brake cover.", "Fit the 8 cover bolts", "Tighten the 8 cover bolts", "Unlock the isolator lock.", "Close the isolator.", "Free the jib."]) await person.press(line);
  await page.locator("#end .ended.done").waitFor();
});

// Text of an author is text, whatever it holds.
test("hostile text does nothing", async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "locknut-"));
  fs.writeFileSync(path.join(folder, "library.yaml"), "publisher: '</script><script>document.title=\"run\"</script>'\n");
  fs.writeFileSync(path.join(folder, "lamp.lkn"), 'model lamp {\n  title "Lamp <img src=x onerror=document.title=1>"\n  state plug : in-socket, pulled-out\n}\nprocedure look on lamp {\n  title "</title><script>document.title=\'run\'</script> &amp; {{{{style}}}}"\n  step "<b>Pull</b> $& </script>" { set plug to pulled-out }\n  step "Plug in." { set plug to in-socket }\n}\n');
  execFileSync(locknut, ["build", folder, "--into", path.join(folder, "out")], { stdio: "pipe" });
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await browser.newPage();
  await page.goto(`file://${path.join(folder, "out", "look", "check-program.html")}`);
  await page.locator("form.line.open").waitFor();
  assert.equal(await page.title(), "</title><script>document.title='run'</script> &amp; {{style}}");
  assert.equal(await page.locator("main b:has-text('Pull'), main img").count(), 0);
  assert.match(await page.locator(".words").first().textContent(), /<b>Pull<\/b> \$& <\/script>/);
});

// Whoever lacks the gauge: the page asks which instrument is there, and keeps what that leaves open, as the terminal does.
test("a substitute is followed, and the record says what it leaves open", async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "locknut-"));
  fs.writeFileSync(path.join(folder, "library.yaml"), "publisher: The corner workshop\n");
  fs.copyFileSync(path.join("examples", "15-without-the-gauge.lkn"), path.join(folder, "belt.lkn"));
  execFileSync(locknut, ["build", folder, "--into", path.join(folder, "out")], { stdio: "pipe" });
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const context = await browser.newContext({ acceptDownloads: true });
  const page = await context.newPage();
  const person = new Person(page);
  await page.goto(`file://${path.join(folder, "out", "check-belt", "check-program.html")}`);
  for (const line of ["Bring the plug to “pulled out”", "Take off the guard."]) await person.press(line);
  await person.press("Check the tension with the first of these", "steel rule");
  await person.press("Press on the belt");
  assert.match(await page.locator("form.line.open .not").first().textContent(), /does not tell whether the tension is too high/);
  await person.enter("Measure the sag", ["5.5"]);
  for (const line of ["Fit the guard.", "Bring the plug to “in socket”"]) await person.press(line);
  await page.locator("#end .ended.done").waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#save").click()]);
  const record = JSON.parse(fs.readFileSync(await download.path(), "utf8"));
  const sag = record.entries.find(entry => entry.name === "sag");
  assert.match(sag.noting, /^not decided: tension too high\. A belt that is too tight/);
  assert.equal(record.entries.find(entry => entry.name === "instrument-for-tension").values[0].text, "steel rule");
  const answers = path.join(folder, "answers.yaml");
  fs.writeFileSync(answers, "readings:\n  instrument-for-tension: [steel rule]\n  sag: [\"5.5\"]\n");
  const terminal = JSON.parse(execFileSync(locknut, ["run", "check-belt", "--library", folder, "--answers", answers], { encoding: "utf8" }));
  const timeless = one => ({ ...one, entries: one.entries.map(({ at, before, hash, ...entry }) => entry), end: { ...one.end, head: "" } });
  assert.deepEqual(timeless(record), timeless(terminal));
});
