// The record: entries that are never changed, each holding the hash of the one before.
const NO_HASH = "0".repeat(64);
// Every field in a fixed order with its length in bytes ahead of it, as the compiler's own runner does.
const canonical = entry => {
  const bytes = new TextEncoder();
  const field = value => `${bytes.encode(value).length}:${value} `;
  return [entry.before, String(entry.number), entry.at, entry.step, entry.node === null ? "" : String(entry.node),
    entry.what, entry.name, String(entry.values.length),
    ...entry.values.flatMap(value => [value.point, value.text, value.unit]), entry.way, entry.noting ?? ""].map(field).join("");
};
const sha256 = async text => {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  return [...new Uint8Array(digest)].map(byte => byte.toString(16).padStart(2, "0")).join("");
};
// Numbers and chains an entry; the ones before are not touched.
const chained = async (entries, entry) => {
  const next = { number: entries.length + 1, ...entry, before: entries.at(-1)?.hash ?? NO_HASH, hash: "" };
  next.hash = await sha256(canonical(next));
  return next;
};
// The number of the first entry that was altered, doubled or moved; null where the chain holds.
const brokenAt = async entries => {
  let before = NO_HASH;
  for (const [position, entry] of entries.entries()) {
    if (entry.number !== position + 1 || entry.before !== before || entry.hash !== await sha256(canonical(entry))) return position + 1;
    before = entry.hash;
  }
  return null;
};
const now = () => new Date().toISOString().replace(/\.\d+Z$/, "Z");
