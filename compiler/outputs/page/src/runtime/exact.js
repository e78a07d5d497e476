// Exact rational numbers over BigInt: no float takes part in a verdict.
const gcd = (a, b) => { while (b) [a, b] = [b, a % b]; return a < 0n ? -a : a; };
const ratio = (n, d = 1n) => {
  if (d < 0n) { n = -n; d = -d; }
  const g = gcd(n, d) || 1n;
  return { n: n / g, d: d / g };
};
// "7", "-7/20": as the step-graph document writes numbers.
const exact = text => { const [n, d] = text.split("/"); return ratio(BigInt(n), BigInt(d ?? "1")); };
// What a person types: digits with a point or a comma; anything else gives null.
const typed = text => {
  const plain = text.trim().replace(/[\u2212\u2013]/g, "-").replace(",", ".");
  const parts = /^([+-]?)(\d+)(?:\.(\d*))?$/.exec(plain);
  if (!parts || plain.length > 40) return null;
  const fraction = parts[3] ?? "";
  const n = BigInt(parts[2] + fraction) * (parts[1] === "-" ? -1n : 1n);
  return ratio(n, 10n ** BigInt(fraction.length));
};
const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
const minus = (a, b) => ratio(a.n * b.d - b.n * a.d, a.d * b.d);
const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
const over = (a, b) => (b.n === 0n ? null : ratio(a.n * b.d, a.d * b.n));
const compare = (a, b) => { const x = a.n * b.d, y = b.n * a.d; return x < y ? -1 : x > y ? 1 : 0; };
const whole = a => a.d === 1n;
const inside = (range, value) => {
  const { lower, upper } = range;
  if (lower) { const c = compare(value, exact(lower.value)); if (c < 0 || (c === 0 && !lower.closed)) return false; }
  if (upper) { const c = compare(value, exact(upper.value)); if (c > 0 || (c === 0 && !upper.closed)) return false; }
  return true;
};
// So many digits after the point, to nearest, half to even.
const decimal = (value, digits) => {
  const scale = 10n ** BigInt(digits);
  const n = value.n * scale, negative = n < 0n, size = negative ? -n : n;
  let q = size / value.d;
  const twice = (size % value.d) * 2n;
  if (twice > value.d || (twice === value.d && q % 2n === 1n)) q += 1n;
  const text = q.toString().padStart(digits + 1, "0");
  const shown = digits ? `${text.slice(0, -digits)}.${text.slice(-digits)}` : text;
  return negative && q !== 0n ? `-${shown}` : shown;
};
// The same, with up to six digits more where rounding would else take it to one of some values, or past it.
const decimalBeside = (value, digits, others) => {
  const apart = digits => {
    const rounded = typed(decimal(value, digits));
    return rounded && others.every(other => compare(rounded, other) === compare(value, other));
  };
  for (let more = 0; more <= 6; more += 1) if (apart(digits + more)) return decimal(value, digits + more);
  return decimal(value, digits + 6);
};
