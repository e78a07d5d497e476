//! The words of the language, for messages and for finding a foothold after a fault.

/// Words that begin a declaration.
pub(crate) const DECLARATIONS: &[&str] = &[
    "model",
    "assembly",
    "instrument",
    "tool",
    "consumable",
    "procedure",
    "subtask",
    "value",
    "limit",
    "kind",
    "unit",
    "element",
    "thread",
    "strength",
    "head",
    "condition",
    "effort",
    "formula",
    "table",
    "template",
];

/// Words that begin a line of a procedure, beside the verbs of the vocabulary.
pub(crate) const ITEMS: &[&str] = &[
    "section", "step", "any", "together", "without", "when", "at", "set", "measure", "observe",
    "count", "record", "confirm", "check", "choose", "wait", "do", "hold", "sign", "apply", "note",
    "not", "use", "title", "revision", "replaces", "for", "crew", "uses", "starts", "leaves",
];

/// Words that begin a line of a model, beside the elements of the vocabulary.
pub(crate) const MODEL_ITEMS: &[&str] = &[
    "title",
    "made",
    "reading",
    "series",
    "serial",
    "value",
    "limit",
    "state",
    "change",
    "never",
    "danger",
    "warning",
    "caution",
    "notice",
    "safe",
    "part",
    "bolts",
    "fluid",
    "connector",
    "shaft",
    "lock",
];

/// Words that begin a line of a template.
pub(crate) const TEMPLATE_LINES: &[&str] =
    &["rectangle", "disc", "notch", "hole", "holes", "label", "wall"];

/// Words of later versions of the language, with what they are for.
pub(crate) const NOT_YET: &[(&str, &str)] = &[
    ("bulletin", "bulletins"),
    ("suspects", "fault searches"),
    ("fault", "faults of a model"),
    ("counter", "meters of a model"),
    ("afterwards", "duties after the job"),
    ("figure", "figures"),
];

/// The nearest of some words, where one is near: one slip in three letters.
pub(crate) fn near<'a>(word: &str, among: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let most = (word.chars().count() / 3).max(1);
    among
        .map(|known| (strsim::damerau_levenshtein(word, known), known))
        .filter(|(distance, _)| *distance > 0 && *distance <= most)
        .min()
        .map(|(_, known)| known)
}
