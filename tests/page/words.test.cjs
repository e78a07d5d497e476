// What a person reads on the page: the words of the edition that is shown, what was read where a text names it, the order
// of tightening, and that one name does not sign for two people. The record keeps the words of the source.
const assert = require("node:assert/strict");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");
const { test } = require("node:test");
const { chromium } = require("playwright-core");

const locknut = process.env.LOCKNUT;
assert.ok(locknut, "tests/run sets LOCKNUT");
const OPTIONS = { executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] };

const SOURCE = `instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.25 mm }
instrument wrench { applies torque 5 .. 60 N·m, error 4 % of reading }
model brake {
  title "Brake"
  state drum : free, pinned
  part  yoke
  bolts yoke-bolts : 4 of M8 class 8.8 dry, fastens yoke, on pitch circle 90 mm, crosswise, tightened to 20 ± 2 N·m
  safe to leave when drum is pinned
}
procedure look on brake {
  title "Brake: look"
  crew fitter, lead
  step "Pin the drum." by fitter { set drum to pinned }
  when drum is pinned for 45 min {
    step "Feel the drum." by fitter { confirm "It is cold." }
  }
  step work "Look." by fitter {
    observe crack "Is there a crack?" {
      no  -> go on
      yes -> go on noting "Cracked."
    }
    measure gap at left, right using rule, expect 0 .. 20 mm {
      accept at most 5 mm
      otherwise go on noting "Wide: {gap}."
    }
  }
  step nip "Tighten." by fitter {
    slacken yoke-bolts
    tighten yoke-bolts using wrench
  }
  sign "It is done." by fitter
  sign "It holds." by lead independent of work, nip
  step "Take it off." by fitter {
    remove yoke-bolts, yoke
    measure depth using rule, expect 0 .. 20 mm {
      accept at most 3 mm
      otherwise refer to "The smith: the depth is {depth}"
    }
  }
  step "Put it back." by fitter {
    fit yoke, yoke-bolts
    tighten yoke-bolts using wrench
  }
  step "Free the drum." by fitter { set drum to free }
}
`;
const GERMAN = {
  "Brake": "Bremse", "Brake: look": "Bremse: ansehen", "Pin the drum.": "Trommel sichern.", "Feel the drum.": "Trommel anfassen.", "It is cold.": "Sie ist kalt.",
  "Look.": "Ansehen.", "Is there a crack?": "Ist da ein Riss?", "Cracked.": "Gerissen.", "Wide: {1}.": "Weit: {1}.", "Tighten.": "Anziehen.", "It is done.": "Es ist getan.",
  "It holds.": "Es hält.", "Take it off.": "Abnehmen.", "The smith: the depth is {1}": "Schmied: die Tiefe ist {1}", "Put it back.": "Wieder anbauen.", "Free the drum.": "Trommel lösen.",
  "rule": "Maßstab", "wrench": "Schlüssel", "drum": "Trommel", "free": "frei", "pinned": "gesichert", "yoke": "Joch", "yoke-bolts": "Jochschrauben", "fitter": "Monteur",
  "lead": "Vorarbeiter", "crack": "Riss", "gap": "Spalt", "left": "links", "right": "rechts", "depth": "Tiefe",
};

function built() {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), "locknut-words-"));
  fs.mkdirSync(path.join(home, "translations"));
  fs.writeFileSync(path.join(home, "library.yaml"), "publisher: Kestmoor\nlanguage: en\nalso-in: [de]\nunits: si\n");
  fs.writeFileSync(path.join(home, "brake.lkn"), SOURCE);
  const rows = Object.entries(GERMAN).map(([from, to]) => `${JSON.stringify(from)}: ${JSON.stringify(to)}\n`);
  fs.writeFileSync(path.join(home, "translations", "de.yaml"), rows.join(""));
  execFileSync(locknut, ["build", home, "--into", path.join(home, "out")], { stdio: ["ignore", "inherit", "inherit"] });
  return `file://${path.join(home, "out", "look", "check-program.html")}`;
}

test("a page speaks the language of its edition, and its record that of the source", async t => {
  const browser = await chromium.launch(OPTIONS);
  t.after(() => browser.close());
  const page = await (await browser.newContext({ acceptDownloads: true })).newPage();
  const problems = [];
  page.on("pageerror", error => problems.push(error.message));
  await page.goto(built());
  await page.locator("#edition").selectOption({ label: "de · si" });

  const line = text => page.locator("form.line.open", { hasText: text });
  const press = (text, button) => line(text).getByRole("button", { name: button, exact: true }).click();
  const enter = async (text, values) => {
    for (const [at, value] of values.entries()) await line(text).locator("input").nth(at).fill(value);
    await press(text, "Eingeben");
  };
  // An answer is written through to the device before it is shown.
  const result = async text => {
    const shown = page.locator("form.line", { hasText: text }).first().locator(".result", { hasText: /\S/ });
    await shown.waitFor();
    return shown.textContent();
  };

  // Nobody waited: the program goes by that, and says so.
  await page.getByText("dieses Programm nur nach den Wartezeiten").waitFor();
  await press("gesichert", "Erledigt");
  await press("Ist da ein Riss?", "nein");
  assert.equal(await result("Ist da ein Riss?"), "✓ nein");
  await enter("Spalt messen", ["6.0", "2.0"]);
  assert.equal(await result("Spalt messen"), "✗ links 6.0 mm; rechts 2.0 mm");

  // The order of tightening: a drawing that is there, with its words for whoever cannot see it.
  const order = line("anziehen").locator("img.order");
  await press("lösen", "Erledigt");
  assert.ok(await order.evaluate(image => image.complete && image.naturalWidth > 0));
  assert.match(await order.getAttribute("alt"), /Reihenfolge/);
  await press("anziehen", "Erledigt");

  // One name is one person, whatever it is typed like; apart from one step or from several.
  await enter("Es ist getan", ["R. Brand"]);
  await enter("Es hält", [" r.  brand "]);
  const refused = line("Es hält").locator(".error", { hasText: /\S/ });
  await refused.waitFor();
  assert.match(await refused.textContent(), /andere Rolle.*\(Monteur\)/);
  await enter("Es hält", ["A. Holm"]);

  await press("herausdrehen", "Erledigt");
  await press("ausbauen", "Erledigt");
  await enter("Tiefe messen", ["9.0"]);
  await page.locator("#end .ended.refer").waitFor();
  const end = await page.locator("#end").textContent();
  assert.match(end, /Schmied: die Tiefe ist 9\.0 mm/);
  assert.match(end, /Trommel: gesichert; Joch: ausgebaut; Jochschrauben: heraus/);
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#save").click()]);
  const record = JSON.parse(fs.readFileSync(await download.path(), "utf8"));
  const noted = record.entries.map(entry => entry.noting).filter(Boolean);
  assert.deepEqual(noted, ["Wide: left 6.0 mm, right 2.0 mm."]);
  assert.equal(record.end.text, "The smith: the depth is 9.0 mm");
  assert.deepEqual(record.entries.find(entry => entry.name === "crack").values, [{ point: "", text: "no", unit: "" }]);
  assert.deepEqual(problems, []);
});
