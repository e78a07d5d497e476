const copied = opens => opens.map(open => ({ ...open, done: [...open.done], lanes: open.lanes?.map(lane => ({ at: lane.at, open: copied(lane.open) })) }));

// Where a job stands in the step graph: the same rule of what may come next as the proof's.
class Walk {
  constructor(graph) {
    this.graph = graph;
    this.at = graph.start;
    this.open = [];
    this.rounds = graph.repeats.map(() => 0);
    this.values = graph.variables.map(variable => variable.normal);
    this.proved = graph.variables.map(() => false);
    this.waited = graph.variables.map(() => ratio(0n));
    this.atMoment = new Map();
    this.momentTime = new Map();
    this.time = null;
    this.readings = new Map();
    for (const start of graph.starts) {
      this.values[start.variable] = start.values[0];
      this.proved[start.variable] = start.proved;
      if (start.held) this.waited[start.variable] = exact(start.held);
    }
    this.variant = graph.variables.flatMap((variable, id) => (variable.is === "series" || variable.is === "serial" ? [id] : []));
    this.arrive();
    this.settle();
  }
  copy() {
    const other = Object.create(Walk.prototype);
    Object.assign(other, this, {
      open: copied(this.open),
      rounds: [...this.rounds], values: [...this.values], proved: [...this.proved], waited: [...this.waited],
      atMoment: new Map([...this.atMoment].map(([moment, then]) => [moment, [...then]])),
      momentTime: new Map(this.momentTime), readings: new Map(this.readings), variant: [...this.variant],
    });
    return other;
  }
  node(id = this.at) { return this.graph.nodes[id]; }
  ways() {
    const node = this.node();
    const all = node.ways.map(way => way.way);
    if (node.node === "any-order" || node.node === "together") {
      const { done } = this.open.at(-1);
      return done.every(Boolean) ? ["next"] : all.filter(way => way.startsWith("child ") && !done[Number(way.slice(6))]);
    }
    if (node.node === "repeat") {
      const left = this.rounds[node.repeat] < this.graph.repeats[node.repeat].times;
      return all.filter(way => way === (left ? "again" : "failing"));
    }
    return all;
  }
  edge(way) { return this.node().ways.find(edge => edge.way === way); }
  pass(way) {
    const node = this.node(), edge = this.edge(way);
    const effects = [...(node.effects ?? []), ...(edge.effects ?? [])];
    for (const effect of effects) this.bring(effect);
    if (node.node === "repeat" && way === "again") this.rounds[node.repeat] += 1;
    if (node.node === "together" && way.startsWith("child ")) { this.resume(Number(way.slice(6))); return; }
    if (node.node === "any-order" || node.node === "together") {
      if (way.startsWith("child ")) this.open.at(-1).current = Number(way.slice(6));
      else this.open.pop();
    }
    // `done` in a block ends the work for all.
    if (effects.some(effect => effect.effect === "leave-blocks")) this.open = [];
    this.at = edge.to;
    this.arrive();
    this.park();
  }
  // Goes on in a lane from where it stands.
  resume(lane) {
    const open = this.open.at(-1), stands = open.lanes[lane];
    open.current = lane;
    this.at = stands.at;
    this.open.push(...stands.open);
    stands.open = [];
  }
  // Leaves the lane under way where it now stands: after each node anyone may be next. An end ends the job for all.
  park() {
    if (this.node().node === "end") return;
    const position = this.open.findIndex(open => open.lanes && open.current !== null);
    if (position < 0) return;
    const open = this.open[position];
    open.lanes[open.current] = { at: this.at, open: this.open.splice(position + 1) };
    open.done[open.current] = this.node().node === "lane-done";
    open.current = null;
    this.at = open.order;
  }
  arrive() {
    const node = this.node();
    if (node.node === "any-order") this.open.push({ order: this.at, done: Array(node.children).fill(false), current: null });
    if (node.node === "together") {
      const lanes = node.ways.filter(way => way.way.startsWith("child ")).map(way => this.firstOf(way.to));
      this.open.push({ order: this.at, done: lanes.map(lane => this.node(lane.at).node === "lane-done"), current: null, lanes });
    }
    if (node.node === "child-done") {
      this.at = node.order;
      const open = this.open.at(-1);
      if (open.current !== null) open.done[open.current] = true;
      open.current = null;
    }
  }
  firstOf(at) {
    const inside = this.copy();
    inside.at = at;
    inside.open = [];
    inside.arrive();
    return { at: inside.at, open: inside.open };
  }
  bring(effect) {
    const { variable } = effect;
    switch (effect.effect) {
      case "set":
        this.values[variable] = effect.value;
        this.proved[variable] = false;
        this.waited[variable] = ratio(0n);
        for (const then of this.atMoment.values()) then[variable] = null;
        break;
      case "prove": this.proved[variable] = true; break;
      case "wait": this.waited = this.waited.map(waited => plus(waited, exact(effect.seconds))); break;
      case "wait-since": {
        // A floor, not a sum: what was written after that moment gains nothing for certain.
        const then = this.atMoment.get(effect.moment);
        if (then) this.waited = this.waited.map((waited, id) => {
          if (then[id] === null) return waited;
          const floor = plus(then[id], exact(effect.seconds));
          return compare(floor, waited) > 0 ? floor : waited;
        });
        break;
      }
      case "mark":
        this.atMoment.set(effect.moment, [...this.waited]);
        this.momentTime.set(effect.moment, this.time);
        break;
      case "void":
        effect.readings.forEach(reading => this.readings.delete(reading));
        effect.proofs.forEach(proof => { this.proved[proof] = false; });
        break;
      case "afresh": this.rounds[effect.repeat] = 0; break;
    }
  }
  // Passes everything at which nobody is asked anything.
  settle() {
    for (let way = this.silent(); way !== null; way = this.silent()) this.pass(way);
  }
  silent() {
    if (this.variant.length) return null;
    const node = this.node();
    switch (node.node) {
      case "act": case "end": return null;
      case "branch": return this.holds(node.condition) ? "arm 0" : "arm 1";
      case "any-order": { const ways = this.ways(); return ways.length === 1 ? ways[0] : null; }
      case "together": return this.silentLane();
      default: return this.ways()[0] ?? null;
    }
  }
  // Lanes in which somebody can go on, or the way on where all are done.
  openWays() {
    const ways = this.ways();
    if (this.node().node !== "together") return ways;
    return ways.filter(way => {
      if (!way.startsWith("child ")) return true;
      const next = this.node(this.open.at(-1).lanes[Number(way.slice(6))].at);
      return next.node !== "await" || this.holds(next.condition);
    });
  }
  // A lane in which nobody is asked anything next, or the only one in which somebody can go on.
  silentLane() {
    const ways = this.openWays();
    if (ways.length === 1) return ways[0];
    return ways.find(way => {
      const next = this.copy();
      next.pass(way);
      const { node } = next.node();
      return node === "any-order" ? next.ways().length === 1 : node !== "act" && node !== "end";
    }) ?? null;
  }
  go(way) { this.pass(way); this.settle(); }
  // The nodes that may be answered now: one, or the first of each freed child that is not done and of each lane.
  openNodes() {
    if (this.variant.length) return [];
    const node = this.node();
    if (node.node === "act") return [{ node: this.at, children: [] }];
    if (node.node !== "any-order" && node.node !== "together") return [];
    return this.openWays().flatMap(way => {
      const tried = this.copy();
      tried.go(way);
      return tried.openNodes().map(open => ({ node: open.node, children: [way, ...open.children] }));
    });
  }
  holds(condition) {
    const has = () => condition.values.includes(this.values[condition.variable]);
    switch (condition.is) {
      case "always": return condition.so;
      case "not": return !this.holds(condition.of);
      case "all": return condition.of.every(part => this.holds(part));
      case "any": return condition.of.some(part => this.holds(part));
      case "value": return has();
      case "proved": return has() && this.proved[condition.variable];
      case "held": return has() && (compare(this.waited[condition.variable], exact(condition.seconds)) >= 0) !== condition.under;
      case "within": { const value = this.value(condition.value); return value !== null && inside(condition.range, value); }
      default: throw new Error(`unknown condition ${condition.is}`);
    }
  }
  // The value of an expression; null where a reading is missing.
  value(of) {
    switch (of.is) {
      case "value": return exact(of.quantity.value);
      case "reading": return this.points(of)?.[0] ?? null;
      case "point": return this.readings.get(of.reading)?.numbers?.[of.point] ?? null;
      case "negative": { const value = this.value(of.of); return value && minus(ratio(0n), value); }
      case "binary": {
        const a = this.value(of.left), b = this.value(of.right);
        return a && b ? { "+": plus, "-": minus, "*": times, "/": over }[of.operator](a, b) : null;
      }
      case "fold": {
        const all = of.of.map(part => this.points(part));
        return all.includes(null) ? null : fold(of.fold, all.flat());
      }
      case "look-up": { const key = this.value(of.of); return key && lookedUp(of, key); }
      default: throw new Error(`unknown expression ${of.is}`);
    }
  }
  points(of) {
    if (of.is === "reading") return this.readings.get(of.reading)?.numbers ?? null;
    const value = this.value(of);
    return value === null ? null : [value];
  }
  // What a verdict accepts lies in all of these ranges; null where it is worked out from what is missing.
  accepts(verdict) {
    const ranges = [verdict.limit.range];
    if (!verdict.computed) return ranges;
    const range = {};
    for (const end of ["lower", "upper"]) {
      const of = verdict.computed[end];
      if (!of) continue;
      const value = this.value(of[0]);
      if (value === null) return null;
      range[end] = { value: `${value.n}/${value.d}`, closed: of[1] };
    }
    return [...ranges, range];
  }
  // The values at which a verdict turns.
  turns(verdict) {
    const { guard } = verdict;
    const held = range => guard
      ? [movedBy(range, guard, band => exact(band.inward)), movedBy(range, guard, band => minus(ratio(0n), exact(band.outward)))]
      : [range];
    const ranges = verdict.verdict === "none" ? []
      : verdict.verdict === "accept" ? (this.accepts(verdict) ?? []).flatMap(held)
      : verdict.arms.flatMap(arm => arm.range ?? []);
    return ranges.flatMap(range => [range.lower, range.upper]).filter(Boolean).map(end => exact(end.value));
  }
  // The way that a verdict takes; null where no arm covers the reading.
  judge(verdict, taken) {
    if (verdict.verdict === "none") return "next";
    if (verdict.verdict === "accept") {
      const ends = this.accepts(verdict), { guard } = verdict;
      if (!ends) return null;
      const all = (moved, number) => ends.every(range => inside(moved(range), number));
      if (!guard) return taken.numbers.every(number => all(range => range, number)) ? "accepted" : "otherwise";
      // Guarded: accepted from so far inside on, refused from so far outside on, undecided between.
      if (!taken.numbers.every(number => all(range => movedBy(range, guard, band => minus(ratio(0n), exact(band.outward))), number))) return "otherwise";
      return taken.numbers.every(number => all(range => movedBy(range, guard, band => exact(band.inward)), number)) ? "accepted" : "undecided";
    }
    const arm = verdict.arms.findIndex(arm => (taken.numbers
      ? arm.range && taken.numbers.every(number => inside(arm.range, number))
      : (arm.answers ?? []).includes(taken.answer)));
    return arm < 0 ? null : `arm ${arm}`;
  }
  // The member of a choice that fits, by its preference; a tie takes the smaller. -1: nothing fits.
  choose(choice) {
    if (choice.rows?.length) {
      const reading = this.value(choice.value);
      const row = reading && choice.rows.find(([range]) => inside(range, reading));
      return row ? row[1] : -1;
    }
    let best = -1, least = null;
    choice.set.forEach((member, position) => {
      const size = exact(member.size.value);
      const tried = this.copy();
      tried.readings.set(choice.reading, { numbers: [size] });
      const result = tried.value(choice.value);
      if (result === null || !inside(choice.range.range, result)) return;
      const rank = { smallest: () => size, largest: () => minus(ratio(0n), size), fewest: () => ratio(BigInt(member.pieces?.length ?? 1)),
        nearest: () => { const away = minus(result, exact(choice.prefer.to.value)); return away.n < 0n ? ratio(-away.n, away.d) : away; } }[choice.prefer.prefer]();
      if (least === null || compare(rank, least) < 0) { best = position; least = rank; }
    });
    return best;
  }
  // What is otherwise than normal, by variable and value.
  odd() {
    return this.graph.variables.flatMap((variable, id) =>
      (["state", "element", "tool"].includes(variable.is) && this.values[id] !== variable.normal ? [[id, this.values[id]]] : []));
  }
  // The same as name and value, in the words of the source: for the record.
  stands() {
    const { variables } = this.graph;
    return this.odd().map(([id, value]) => [variables[id].said, variables[id].values[value].replaceAll("-", " ")]);
  }
  safeToLeave() { return this.holds(this.graph.safe_to_leave); }
}
// A limit whose ends are moved inward by so much.
const movedBy = (range, guard, by) => {
  const text = value => `${value.n}/${value.d}`;
  const end = (name, move) => range[name] && { closed: range[name].closed, value: text(guard[name] ? move(exact(range[name].value), by(guard[name])) : exact(range[name].value)) };
  return { lower: end("lower", plus), upper: end("upper", minus) };
};
// What is taken, piece by piece, as the record says it.
const chosenValues = (choice, member, point) => {
  if (member < 0) return [];
  const { size, number, pieces } = choice.set[member];
  return (pieces ?? [{ written: size.written, number }]).map(piece => ({ point, text: piece.written, unit: piece.number ?? "" }));
};
// What a table gives at a key; null where it says nothing.
const lookedUp = ({ rows, between }, key) => {
  let below = null;
  for (const [at, value] of rows.map(row => row.map(exact))) {
    const side = compare(at, key);
    if (side === 0) return value;
    if (side < 0) { below = [at, value]; continue; }
    if (!below || between === "nothing") return null;
    const [low, from] = below;
    return between === "take next lower" ? from : plus(from, over(times(minus(value, from), minus(key, low)), minus(at, low)));
  }
  return null;
};
const fold = (name, all) => {
  const sum = all.reduce(plus, ratio(0n));
  const sorted = [...all].sort(compare);
  switch (name) {
    case "max": return sorted.at(-1) ?? null;
    case "min": return sorted[0] ?? null;
    case "mean": return all.length ? over(sum, ratio(BigInt(all.length))) : null;
    case "spread": return all.length ? minus(sorted.at(-1), sorted[0]) : null;
    case "sum": return sum;
    case "count": return ratio(BigInt(all.length));
    case "abs": return all[0] ? (all[0].n < 0n ? ratio(-all[0].n, all[0].d) : all[0]) : null;
    default: throw new Error(`unknown fold ${name}`);
  }
};
