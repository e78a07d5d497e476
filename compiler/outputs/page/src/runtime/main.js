// The job on this device: one person, one machine, one procedure.
class App {
  constructor(data) {
    this.data = data;
    this.graph = data.graph;
    this.entries = [];
    this.busy = false;
    this.edition = 0;
    this.view = new View(data.sheets[0], this);
  }
  word(key, plain) { return this.view.word(key, plain); }
  async start() {
    this.view.build();
    if (!globalThis.indexedDB || !globalThis.crypto?.subtle) {
      this.stopWith(this.word("no-store", "This browser cannot keep a record, so the job cannot be done here. Use the printed checklist."));
      return;
    }
    try {
      this.store = await new Store(`${this.graph.procedure.name} ${this.data.source}`).open();
      await this.oneTabOnly();
      await this.resume();
    } catch (problem) {
      this.stopWith(`${this.word("no-store", "This browser cannot keep a record, so the job cannot be done here. Use the printed checklist.")} (${problem?.message ?? problem})`);
      return;
    }
    addEventListener("beforeunload", event => { if (this.entries.length && !this.ended() && !this.walk.safeToLeave()) event.preventDefault(); });
    setInterval(() => this.clocks(), 500);
  }
  // A second tab on the same job would write into the same record.
  oneTabOnly() {
    if (!navigator.locks) return Promise.resolve();
    return new Promise((resolve, reject) => {
      navigator.locks.request(this.store.key, { ifAvailable: true }, lock => {
        if (!lock) { reject(new Error(this.word("other-tab", "the job is open in another window"))); return undefined; }
        resolve();
        return new Promise(() => {});
      });
    });
  }
  // Takes up the job from the record: the walk is driven again by the answers, the hashes are checked.
  async resume() {
    const kept = await this.store.all();
    const broken = await brokenAt(kept.map(one => one.entry));
    this.walk = new Walk(this.graph);
    if (broken !== null) {
      this.stopWith(`${this.word("record-broken", "The record on this device was altered at entry")} ${broken}.`);
      return;
    }
    this.entries = [];
    for (const { entry, answer } of kept) {
      this.drive(answer, entry.at);
      this.entries.push(entry);
    }
    this.paint(true);
  }
  ended() { return this.walk.node().node === "end" && !this.walk.variant.length; }
  // Carries an answer through the walk and returns what the record says of it; throws words where it is refused.
  drive(answer, at) {
    const { walk } = this;
    walk.time = at;
    if (answer.variant !== undefined) return this.driveVariant(answer);
    for (const way of answer.children) walk.go(way);
    if (walk.at !== answer.node) throw new Error(this.word("not-open", "This step is not open now."));
    const { act } = walk.node();
    const way = this.take(walk, act, answer);
    const noting = walk.edge(way)?.noting;
    const entry = { step: this.stepNumber(answer.node), node: answer.node, what: answer.what, name: answer.name, values: answer.values, way,
      noting: noting ? this.prose(noting, answer) : null };
    // Undecided: it is evidence, and the job waits where it is; behind a substitute it is asked again which instrument is used.
    if (way !== "undecided") walk.go(way);
    else walk.at = act.substitute?.again ?? walk.at;
    return entry;
  }
  take(walk, act, answer) {
    if (act.reading === undefined) return "next";
    if (act.asks === "record") { walk.readings.set(act.reading, { text: answer.values[0].text }); return "next"; }
    if (act.asks === "observe") {
      const taken = { answer: answer.answer };
      const way = walk.judge(act.verdict, taken);
      walk.readings.set(act.reading, taken);
      return way;
    }
    if (act.asks === "choose") {
      const member = walk.choose(act);
      if (member < 0) return "otherwise";
      walk.readings.set(act.reading, { numbers: [exact(act.set[member].size.value)] });
      return "next";
    }
    const numbers = act.asks === "check" ? [walk.value(act.value)] : answer.numbers.map(exact);
    const way = walk.judge(act.verdict, { numbers });
    if (way !== "undecided") walk.readings.set(act.reading, { numbers });
    return way;
  }
  driveVariant(answer) {
    this.walk.values[answer.variant] = answer.value;
    this.walk.variant = this.walk.variant.filter(id => id !== answer.variant);
    this.walk.settle();
    const { is } = this.graph.variables[answer.variant];
    return { step: "", node: null, what: "machine", name: is, values: [{ point: "", text: answer.text, unit: "" }], way: "next", noting: null };
  }
  stepNumber(node) { const { step } = this.graph.nodes[node]; return step === undefined ? "" : this.graph.steps[step].number; }
  prose(pieces, now, say = asEntered) {
    return pieces.map(piece => (typeof piece === "string" ? piece
      : piece.said ?? piece.quantity?.written ?? piece.limit?.written ?? this.entered(piece.reading, now, say) ?? "…")).join("");
  }
  // A reading as it was entered: the one that is taken now, or one before.
  entered(reading, now, say) {
    // At two points two are read by one name, so they go by their acts.
    const takes = ({ node }) => this.graph.nodes[node]?.act?.reading;
    const taken = [...this.entries, ...(now ? [now] : [])].findLast(one => takes(one) === reading && one.values.length > 0);
    return taken && say(taken);
  }
  // A person answers an open line.
  async answer(node, texts, pressed) {
    if (this.busy) return;
    const open = this.walk.openNodes().find(one => one.node === node);
    if (!open) return;
    this.busy = true;
    try {
      const tried = this.walk.copy();
      for (const way of open.children) tried.go(way);
      await this.commit({ ...this.readAnswer(tried, node, texts, pressed), children: open.children });
    } catch (refused) {
      if (refused instanceof Refused) this.view.refuse(node, refused.message);
      else this.stopWith(String(refused?.message ?? refused));
    } finally {
      this.busy = false;
    }
  }
  readAnswer(walk, node, texts, pressed) {
    const { act } = this.graph.nodes[node];
    const name = act.reading === undefined ? act.phrase : this.graph.readings[act.reading].name;
    const base = { node, name, values: [] };
    const point = (this.graph.readings[act.reading]?.at ?? []).join(", ");
    switch (act.asks) {
      case "do": case "confirm": return { ...base, what: "done" };
      case "wait": {
        const left = this.waitLeft(act);
        if (left > 0) throw new Refused(`${this.word("still-wait", "Still to wait")}: ${clock(left)}`);
        return { ...base, what: "waited" };
      }
      case "observe": {
        const answer = Number(pressed);
        return { ...base, what: "read", answer, values: [{ point, text: this.graph.readings[act.reading].answers[answer].replaceAll("-", " "), unit: "" }] };
      }
      case "record": {
        const text = texts[0].trim();
        if (!text) throw new Refused(this.word("empty", "Write something down."));
        const role = this.signedAs(walk, act, text);
        if (role) throw new Refused(`${text}: ${this.word("signed-as", "This name has signed in another role. Let somebody else sign.")} (${this.view.sheet.roles[role] ?? role})`);
        return { ...base, what: "read", values: [{ point, text, unit: "" }] };
      }
      case "check": {
        const value = walk.value(act.value);
        if (value === null) throw new Refused(this.word("missing", "A reading that this is worked out from is missing."));
        return { ...base, what: "computed", values: [{ point, ...this.shown(act.reading, value, walk.turns(act.verdict)) }] };
      }
      case "choose": {
        const member = walk.choose(act);
        return { ...base, what: "chosen", values: chosenValues(act, member, point) };
      }
      default: return { ...base, what: "read", ...this.readNumbers(act, node, texts) };
    }
  }
  // The other role in which a name has signed: the proof takes people of two roles for two people.
  signedAs(walk, act, name) {
    const plain = text => text?.trim().split(/\s+/).join(" ").toLowerCase();
    const other = one => one?.signed_as && one.signed_as !== act.signed_as && plain(walk.readings.get(one.reading)?.text) === plain(name);
    return act.signed_as ? this.graph.nodes.find(node => other(node.act))?.act.signed_as : undefined;
  }
  readNumbers(act, node, texts) {
    const reading = this.graph.readings[act.reading];
    const numbers = [], values = [];
    texts.forEach((text, point) => {
      const number = typed(text);
      if (number === null) throw new Refused(`“${text}” ${this.word("not-a-number", "is not a number.")}`);
      const shown = this.view.unit(node, point);
      // A unit that is not in the table would be taken for another one: better no reading at all.
      const unit = this.graph.units[`${shown} ${reading.kind}`.trim()];
      if (!unit) throw new Error(`no unit ${shown} for ${reading.kind}`);
      const base = plus(times(number, exact(unit.factor)), exact(unit.zero));
      this.judgeEntry(act, base, text, shown === reading.unit);
      numbers.push(`${base.n}/${base.d}`);
      values.push({ point: reading.points?.[point] ?? "", text: text.trim(), unit: shown });
    });
    return { numbers, values };
  }
  // The instrument's range and own digits, then what is expected here.
  judgeEntry(act, value, text, ownUnit) {
    const instrument = this.graph.instruments[act.instrument];
    if (act.asks === "count" && !whole(value)) throw new Refused(`“${text}” ${this.word("not-a-number", "is not a number.")}`);
    if (instrument && !inside(instrument.range, value)) throw new Refused(`${text}: ${this.word("not-in-range", "the instrument cannot show this. Read it again.")}`);
    if (instrument?.resolution && ownUnit && !onDigits(instrument, value)) throw new Refused(`${text}: ${this.word("not-on-digits", "the instrument does not show such digits. Read it again.")}`);
    if (act.expect && !inside(act.expect.range, value)) throw new Refused(`${text}: ${this.word("not-expected", "this is not expected here. Read it again.")} (${act.expect.written})`);
  }
  // With its digits; with more where it would else stand on the other side of a value at which its verdict turns.
  shown(id, value, turns) {
    const reading = this.graph.readings[id];
    const unit = this.graph.units[`${reading.unit} ${reading.kind}`.trim()];
    const number = of => over(minus(of, exact(unit.zero)), exact(unit.factor));
    return { text: decimalBeside(number(value), reading.decimals, turns.map(number)), unit: reading.unit };
  }
  async variantAnswer(id, value, text) {
    if (this.busy) return;
    const allowed = this.graph.starts.find(start => start.variable === id)?.values;
    if (value < 0 || (allowed && !allowed.includes(value))) { this.say(this.word("not-for", "This procedure is not for that machine.")); return; }
    this.busy = true;
    try { await this.commit({ variant: id, value, text }); } catch (problem) { this.stopWith(String(problem?.message ?? problem)); } finally { this.busy = false; }
  }
  // Written through to the device first; only then is it shown as done and the next step opened.
  async commit(answer) {
    const before = this.walk;
    this.walk = before.copy();
    const at = now();
    try {
      const entry = await chained(this.entries, { at, ...this.drive(answer, at) });
      await this.store.add(entry, answer);
      this.entries.push(entry);
    } catch (problem) {
      this.walk = before;
      throw problem;
    }
    this.paint(true);
    this.say(this.word("saved", "Saved"));
  }
  paint(focus) {
    this.askVariant();
    this.entries.forEach(entry => this.view.show(entry));
    const open = this.walk.openNodes().map(one => one.node);
    this.view.open(open, focus && this.entries.length > 0);
    this.clocks();
    if (this.ended()) this.showEnd();
  }
  askVariant() {
    const place = document.getElementById("variant");
    const id = this.walk.variant[0];
    if (id === undefined) { place.replaceChildren(); return; }
    const variable = this.graph.variables[id];
    if (variable.is === "series") {
      place.replaceChildren(make("h2", {}, this.word("which-series", "Which series is the machine?")),
        make("div", { class: "answers" }, variable.values.map((value, number) => make("button", { type: "button", onclick: () => this.variantAnswer(id, number, value) }, value))));
      return;
    }
    const input = make("input", { id: "serial", inputmode: "numeric", autocomplete: "off", maxlength: "18" });
    const take = event => {
      event.preventDefault();
      const text = input.value.trim();
      if (!/^\d+$/.test(text)) { this.say(`“${text}” ${this.word("not-a-number", "is not a number.")}`); input.focus(); return; }
      const number = BigInt(text);
      const at = variable.stretches.findIndex(([from, to]) => (from === null || number >= BigInt(from)) && (to === null || number <= BigInt(to)));
      this.variantAnswer(id, at, text);
    };
    place.replaceChildren(make("form", { onsubmit: take }, make("label", { for: "serial" }, this.word("which-serial", "Serial number of the machine")), input,
      make("button", {}, this.word("enter", "Enter"))));
  }
  waitLeft(act) {
    const from = act.since === undefined ? this.entries.at(-1)?.at : this.walk.momentTime.get(act.since);
    if (!from) return 0;
    const seconds = exact(act.seconds);
    const wanted = Number((seconds.n + seconds.d - 1n) / seconds.d);
    return Math.max(0, Math.ceil(wanted - (Date.now() - Date.parse(from)) / 1000));
  }
  clocks() {
    for (const { node } of this.walk?.openNodes() ?? []) {
      const { act } = this.graph.nodes[node];
      if (act.asks !== "wait") continue;
      const shown = this.view.lines.get(node)?.clock;
      const left = this.waitLeft(act);
      if (shown) shown.textContent = left > 0 ? `${this.word("still-wait", "Still to wait")}: ${clock(left)}` : this.word("wait-done", "The time has passed.");
    }
  }
  record() {
    const { procedure } = this.graph;
    const end = this.ended() ? this.walk.node().end : null;
    return { format: "locknut job record 1", procedure: procedure.name, revision: procedure.revision ?? null, source: this.data.source, entries: this.entries,
      end: end && { how: end.how, text: this.prose(end.text ?? end.to ?? []), stands: this.walk.stands(), head: this.entries.at(-1)?.hash ?? NO_HASH } };
  }
  showEnd() {
    const record = this.record();
    const words = { done: this.word("end-done", "The job is done."), stop: this.word("end-stop", "The job stops here."), refer: this.word("end-refer", "The job stops here. Ask") }[record.end.how];
    // In the words of this edition, as its sheet says them; the record keeps those of the source.
    const { states, ends } = this.view.sheet;
    const odd = this.walk.odd().map(([id, value]) => `${states[id].name}: ${states[id].values[value]}`).join("; ");
    const normal = record.end.how === "done" ? "" : this.word("stands-normal", "The machine then stands as it normally does.");
    const stands = odd ? `${this.word("stands", "The machine stands")}: ${odd}.` : normal;
    const text = this.prose(ends[this.walk.at] ?? [], undefined, entry => this.view.said(entry));
    document.getElementById("end").replaceChildren(make("div", { class: `ended ${record.end.how}` }, make("h2", {}, words), text ? make("p", {}, text) : "",
      stands ? make("p", { id: "stands" }, stands) : "", make("p", { class: "hash" }, record.end.head),
      make("button", { type: "button", id: "save", onclick: () => this.save() }, this.word("save-record", "Save the record"))));
    document.getElementById("end").focus();
    document.getElementById("end").scrollIntoView({ block: "center" });
  }
  save() {
    const text = `${JSON.stringify(this.record(), null, 2)}\n`;
    const link = make("a", { href: URL.createObjectURL(new Blob([text], { type: "application/json" })), download: `${this.graph.procedure.name}.record.json` });
    document.body.append(link);
    link.click();
    link.remove();
  }
  async again() {
    if (!confirm(this.word("new-job-sure", "Begin a new job? Save the record of this one first: it is taken off this device."))) return;
    await this.store.clear();
    location.reload();
  }
  switcher() {
    if (this.data.sheets.length < 2) return "";
    const option = (sheet, id) => make("option", { value: String(id), selected: id === this.edition }, `${sheet.language} · ${sheet.units}`);
    return make("label", { class: "switch" }, `${this.word("edition", "Language and units")} `,
      make("select", { id: "edition", onchange: event => this.switchTo(Number(event.target.value)) }, this.data.sheets.map(option)));
  }
  switchTo(id) {
    this.edition = id;
    this.view = new View(this.data.sheets[id], this);
    this.view.build();
    this.paint(true);
  }
  tools() {
    return make("p", { class: "tools" }, make("button", { type: "button", onclick: () => this.save() }, this.word("save-record", "Save the record")),
      make("button", { type: "button", onclick: () => print() }, this.word("print", "Print")),
      make("button", { type: "button", onclick: () => this.again() }, this.word("new-job", "New job")));
  }
  say(text) { document.getElementById("status").textContent = text; }
  stopWith(text) { document.getElementById("sheet").prepend(make("p", { class: "stop", role: "alert" }, text)); this.view.open([], false); }
}
class Refused extends Error {}
// In the words of the source, as the record keeps it.
const asEntered = ({ values }) => values.map(({ point, text, unit }) => [point, text, unit].filter(Boolean).join(" ")).join(", ");
const clock = seconds => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
// Digits are counted from zero, or from the lower end where that is no whole number of steps.
const onDigits = (instrument, value) => {
  const step = exact(instrument.resolution.value);
  const low = instrument.range.lower ? exact(instrument.range.lower.value) : ratio(0n);
  const origin = whole(over(low, step)) ? ratio(0n) : low;
  return whole(over(minus(value, origin), step));
};
const app = new App(JSON.parse(document.getElementById("data").textContent));
app.start();
// On paper nobody opens a list.
const lists = () => [...document.querySelectorAll("details")];
addEventListener("beforeprint", () => lists().forEach(one => { one.dataset.open = one.open ? "1" : ""; one.open = true; }));
addEventListener("afterprint", () => lists().forEach(one => { one.open = one.dataset.open === "1"; }));
