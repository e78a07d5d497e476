//! LN106: a word that begins a clause stands as a name.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A declared name that is one of the clause words.
pub(crate) struct ClauseWord {
    pub(crate) word: String,
    pub(crate) span: Span,
}

impl ClauseWord {
    /// The closed list: words that begin or join clauses wherever they stand.
    pub(crate) const WORDS: &'static [&'static str] = &[
        "with",
        "using",
        "by",
        "at",
        "expect",
        "proves",
        "makes",
        "needs",
        "takes",
        "prefer",
        "from",
        "for",
        "since",
        "until",
        "while",
        "unless",
        "because",
        "so",
        "where",
        "noting",
        "failing",
        "independent",
        "on",
        "in",
        "is",
        "to",
        "of",
        "and",
        "or",
        "not",
        "then",
        "otherwise",
        "per",
        "usually",
        "answers",
        "despite",
        "proved",
    ];
}

impl Finding for ClauseWord {
    const PAGE: Page = page!("LN106", "ln106_clause_word.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("“{}” cannot be the name of anything", self.word));
        say.label(self.span, "this word begins or joins the clauses of a line");
        say.consequence(format!(
            "a line that speaks of {} would be read as something else",
            self.word
        ));
        say.mend("choose another word, or say more: “applied” or “switched-on” rather than “on”");
    }
}
