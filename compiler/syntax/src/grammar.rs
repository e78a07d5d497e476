//! The parser that pest makes of `grammar/locknut.pest`.

#[derive(pest_derive::Parser)]
#[grammar = "../../grammar/locknut.pest"]
pub(crate) struct Grammar;

#[cfg(test)]
mod tests {
    use super::{Grammar, Rule};
    use pest::Parser;

    /// As the page of LN106 lists them.
    const CLAUSE_WORDS: &str = "and answers at because by despite expect failing for from in independent is makes \
        needs not noting of on or otherwise per prefer proved proves since so takes then to unless until using usually \
        where while with";

    fn is(rule: Rule, word: &str) -> bool {
        let read = Grammar::parse(rule, word).ok().and_then(|mut pairs| pairs.next());
        read.is_some_and(|pair| pair.as_str() == word)
    }

    #[test]
    fn clause_words_are_no_names_and_what_only_begins_like_one_is() {
        for word in CLAUSE_WORDS.split_whitespace() {
            assert!(is(Rule::clause_word, word) && !is(Rule::name, word), "{word}");
            for longer in [format!("{word}s2"), format!("{word}-lock"), format!("x{word}")] {
                assert!(is(Rule::name, &longer) && !is(Rule::clause_word, &longer), "{longer}");
            }
        }
        for letter in ('a'..='z').chain('A'..='Z').chain(['ä', 'Ω', 'ж']) {
            let name = format!("{letter}q");
            assert!(is(Rule::name, &name), "{name}");
        }
    }
}
