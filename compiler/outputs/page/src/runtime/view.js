// The sheet on the screen: built once for an edition, then lines are opened, closed and filled in.
// All text goes in as text; nothing here is ever parsed as markup.
const make = (tag, attributes = {}, ...inner) => {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === false || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else element.setAttribute(name, value);
  }
  element.append(...inner.flat().filter(part => part !== null && part !== undefined && part !== ""));
  return element;
};
const SVG = "http://www.w3.org/2000/svg";
const alertSign = () => {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", "0 0 24 22"); svg.setAttribute("class", "sign"); svg.setAttribute("aria-hidden", "true");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", "M12 1 23.4 21H.6Z M11 8h2l-.3 7h-1.4Z M11 16.6h2v2h-2Z");
  path.setAttribute("fill-rule", "evenodd");
  svg.append(path);
  return svg;
};
class View {
  constructor(sheet, app) {
    this.sheet = sheet;
    this.app = app;
    this.lines = new Map();
    this.word = (key, plain) => sheet.labels[key] ?? plain;
  }
  build() {
    const { sheet } = this;
    document.documentElement.lang = sheet.language;
    document.title = sheet.title;
    const head = document.getElementById("head");
    head.replaceChildren(
      make("p", { class: "publisher" }, sheet.publisher),
      make("h1", {}, sheet.title),
      make("p", { class: "about" }, [sheet.model, sheet.revision, ...sheet.applies].filter(Boolean).join(" · ")),
      this.app.switcher());
    const main = document.getElementById("sheet");
    main.replaceChildren(
      sheet.purpose ? make("p", { class: "purpose" }, sheet.purpose) : "",
      sheet.replaces ? make("p", { class: "replaces" }, `${sheet.replaces[0]}: ${sheet.replaces[1]}`) : "",
      ...sheet.banner.map(panel => this.panel(panel)),
      make("details", { class: "lists" }, make("summary", {}, this.word("what-you-need", "What you need")),
        ...sheet.lists.map(list => this.list(list))),
      make("section", { id: "variant" }),
      ...sheet.blocks.map(block => this.block(block, 2)),
      make("section", { id: "end", tabindex: "-1" }));
    document.getElementById("foot").replaceChildren(
      ...sheet.cautions.map(text => make("p", {}, text)), ...sheet.proved.map(text => make("p", {}, text)), this.app.tools());
  }
  panel(panel) {
    return make("aside", { class: `panel ${panel.signal}` },
      make("p", { class: "word" }, panel.signal === "notice" ? "" : alertSign(), panel.word),
      make("div", {}, make("p", {}, panel.text), panel.applies ? make("p", { class: "when" }, panel.applies) : ""));
  }
  list(list) {
    const row = (cells, tag) => make("tr", {}, cells.map(cell => make(tag, {}, cell)));
    return make("table", {}, make("caption", {}, list.title),
      list.columns.some(Boolean) ? make("thead", {}, row(list.columns, "th")) : "",
      make("tbody", {}, list.rows.map(cells => row(cells, "td"))));
  }
  block(block, level) {
    const inner = (deeper = level) => block.blocks.map(one => this.block(one, deeper));
    switch (block.block) {
      case "section": return make("section", {}, make(`h${Math.min(level, 6)}`, {}, block.title), inner(level + 1));
      case "step": return make("section", { class: "step" },
        block.panels.map(panel => this.panel(panel)),
        make("div", { class: "step-head" }, make("span", { class: "number" }, block.number),
          make("div", {}, block.text ? make("p", { class: "words" }, block.text) : "",
            make("p", { class: "who" }, [block.by, block.takes].filter(Boolean).join(" · ")))),
        inner(), block.leave ? make("p", { class: "leave" }, block.leave) : "");
      case "line": return this.line(block, level);
      case "group": return make("div", { class: "group" }, block.label ? make("p", { class: "label" }, block.label) : "", inner());
      case "note": return make("p", { class: "note" }, make("b", {}, `${block.label}: `), block.text);
      case "not": return make("p", { class: "not" }, block.text);
      case "program": return make("p", { class: "note" }, block.text);
      default: throw new Error(`unknown block ${block.block}`);
    }
  }
  line(line, level) {
    const holder = make("form", { class: "line closed", novalidate: true, "data-node": line.node,
      onsubmit: event => { event.preventDefault(); this.app.answer(line.node, this.typed(line.node), event.submitter?.value); } });
    const error = make("p", { class: "error", id: `error-${line.node}`, role: "alert" });
    const result = make("p", { class: "result" });
    const controls = this.controls(line);
    holder.append(...(line.panels ?? []).map(panel => this.panel(panel)),
      ...(line.cautions ?? []).map(text => make("p", { class: "not" }, text)),
      make("p", { class: "what" }, line.text), ...this.order(line.order), ...this.tables(line), ...controls, error, result,
      line.per ? make("p", { class: "per" }, line.per) : "");
    const outcomes = new Map();
    for (const outcome of line.outcomes ?? []) {
      const [first, ...further] = outcome.follows;
      const inside = part => part.blocks.map(block => this.block(block, level));
      // What follows only when no rounds are left stands apart, under its own words.
      const shown = make("div", { class: "outcome" }, make("p", {}, make("b", {}, outcome.when), " ", first.text), inside(first),
        further.map(part => [make("p", {}, make("b", {}, part.text)), inside(part)]).flat(2), outcome.stands ? make("p", { class: "stands" }, outcome.stands) : "");
      outcomes.set(outcome.way, shown);
    }
    this.lines.set(line.node, { line, holder, error, result, outcomes, clock: holder.querySelector(".clock") });
    return make("div", { class: "line-block" }, holder, ...outcomes.values());
  }
  // The drawing is an image, so that nothing in it can run; its words stand below it for whoever cannot see it.
  order(order) {
    if (!order) return [];
    const src = order.svg ? `data:image/svg+xml;charset=utf-8,${encodeURIComponent(order.svg)}` : "";
    return [src ? make("img", { class: "order", src, alt: order.words }) : "", make("p", { class: "per" }, order.words)];
  }
  tables(line) {
    return (line.tables ?? []).flatMap(({ columns, rows, caption }) =>
      [this.list({ title: "", columns, rows }), caption ? make("p", { class: "per" }, caption) : ""]);
  }
  controls(line) {
    const act = this.app.graph.nodes[line.node].act;
    const button = (text, value) => make("button", { value: value ?? "", disabled: true }, text);
    if (act.asks === "wait") return [make("p", { class: "clock", role: "timer" }), button(this.word("wait-over", "Time has passed"))];
    if (act.asks === "observe") {
      const answers = this.app.graph.readings[act.reading].answers;
      const said = line.answers ?? answers;
      return [make("div", { class: "answers" }, answers.map((answer, id) => button(said[id] ?? answer, String(id))))];
    }
    if (act.asks === "check" || act.asks === "choose") {
      const table = line.table ? this.list({ title: "", columns: line.table.columns, rows: line.table.rows }) : "";
      return [line.rule ? make("p", { class: "rule" }, line.rule) : "", table, line.field?.limit ? make("p", { class: "limit" }, line.field.limit) : "",
        button(this.word("work-out", "Work out"))];
    }
    if (act.reading !== undefined) {
      const fields = line.fields ?? [{ label: "", unit: "" }];
      return [make("div", { class: "fields" }, fields.map((field, id) => this.field(line.node, field, id, act.asks))),
        button(this.word("enter", "Enter"))];
    }
    return [button(this.word("done", "Done"))];
  }
  field(node, field, id, asks) {
    const name = `field-${node}-${id}`;
    const text = asks === "record";
    return make("div", { class: "field" }, make("label", { for: name }, field.label),
      make("input", { id: name, name: String(id), disabled: true, autocomplete: "off", inputmode: text ? "text" : "decimal",
        maxlength: text ? "200" : "40", "aria-describedby": `error-${node}` }),
      make("span", { class: "unit" }, field.unit), field.limit ? make("span", { class: "limit" }, field.limit) : "");
  }
  typed(node) { return [...this.lines.get(node).holder.querySelectorAll("input")].map(input => input.value); }
  unit(node, point) { return this.lines.get(node)?.line.fields?.[point]?.unit_name ?? ""; }
  // Opens exactly these nodes; all else is closed.
  open(nodes, focus) {
    for (const [node, { holder }] of this.lines) {
      const now = nodes.includes(node);
      holder.classList.toggle("open", now);
      holder.classList.toggle("closed", !now);
      holder.querySelectorAll("button, input").forEach(control => { control.disabled = !now; });
      if (now) holder.querySelectorAll("input").forEach(input => { input.value = ""; });
    }
    const first = this.lines.get(nodes[0]);
    if (!first || !focus) return;
    first.holder.scrollIntoView({ block: "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
    first.holder.querySelector("input, button")?.focus({ preventScroll: true });
  }
  // What was entered, in the words of this edition.
  said(entry) {
    const { line } = this.lines.get(entry.node);
    const { act } = this.app.graph.nodes[entry.node];
    if (act.asks === "observe") {
      const answers = this.app.graph.readings[act.reading].answers.map(answer => answer.replaceAll("-", " "));
      return entry.values.map(value => line.answers[answers.indexOf(value.text)] ?? value.text).join("; ");
    }
    const fields = line.fields ?? [line.field];
    return entry.values.map((value, at) => {
      const field = fields[at];
      const unit = field && field.unit_name === value.unit ? field.unit : value.unit;
      const text = entry.what === "computed" ? value.text.replace(".", this.word("decimal-sign", ".")) : value.text;
      return [value.point && (field?.label ?? value.point), text, unit].filter(Boolean).join(" ");
    }).join("; ");
  }
  // Shows an entry at its line: done, its values, the way it took.
  show(entry) {
    const shown = this.lines.get(entry.node);
    if (!shown) return;
    const undecided = entry.way === "undecided";
    shown.holder.classList.toggle("done", !undecided);
    const again = this.app.graph.nodes[entry.node].act?.substitute?.again !== undefined;
    const how = again
      ? this.word("undecided-here", "Undecided: so near the limit the error of the instrument may make it good or bad. Say again which instrument is used, and take a better one.")
      : this.word("undecided", "Undecided: so near the limit the error of the instrument may make it good or bad. Measure again with a better instrument.");
    shown.error.textContent = undecided ? how : "";
    const values = this.said(entry);
    const verdict = entry.way === "accepted" ? "✓ " : entry.way === "otherwise" ? "✗ " : undecided ? "? " : "✓ ";
    shown.result.textContent = `${verdict}${values}`;
    shown.holder.classList.toggle("outside", entry.way === "otherwise");
    for (const [way, element] of shown.outcomes) element.classList.toggle("taken", way === entry.way);
  }
  refuse(node, text) {
    const { error, holder } = this.lines.get(node);
    error.textContent = text;
    const input = holder.querySelector("input");
    input?.setAttribute("aria-invalid", "true");
    (input ?? holder.querySelector("button")).focus();
  }
}
