//! The known name that an unknown one was likely meant to be.

/// The nearest of the names, where one is near enough to be a slip of the hand.
pub(super) fn near<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    // A third of the letters may differ: found by feel.
    let most = (name.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|other| (strsim::damerau_levenshtein(name, other), other))
        .filter(|(slips, _)| *slips > 0 && *slips <= most)
        .min()
        .map(|(_, other)| other.to_owned())
}

#[cfg(test)]
mod tests {
    use super::near;

    #[test]
    fn a_slip_of_the_hand_is_seen_and_another_word_is_not() {
        let verbs = ["measure", "remove", "fit"];
        assert_eq!(near("mesure", verbs).as_deref(), Some("measure"));
        assert_eq!(near("fti", verbs).as_deref(), Some("fit"));
        assert_eq!(near("polish", verbs), None);
    }
}
