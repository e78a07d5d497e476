//! Numbers of steps as printed: `4`; inside an outcome's block `4a.1`, inside a called subtask `4.1`.

use std::collections::BTreeMap;

/// The numbers given so far.
#[derive(Debug)]
pub(super) struct Numbering {
    open: Vec<Open>,
    /// Blocks of outcomes that were lettered, by the number of their step.
    letters: BTreeMap<String, usize>,
}

#[derive(Debug)]
struct Open {
    /// What stands before each number here; an outcome's block has its letter only once a step in it
    /// asks for a number.
    prefix: Prefix,
    given: usize,
}

#[derive(Debug)]
enum Prefix {
    Known(String),
    BlockOf(String),
}

impl Default for Numbering {
    fn default() -> Self {
        let whole = Open { prefix: Prefix::Known(String::new()), given: 0 };
        Self { open: vec![whole], letters: BTreeMap::new() }
    }
}

impl Numbering {
    /// The number of the next step here.
    pub(super) fn next(&mut self) -> String {
        let Some(open) = self.open.last_mut() else { return String::new() };
        open.given += 1;
        if let Prefix::BlockOf(step) = &open.prefix {
            let block = self.letters.entry(step.clone()).or_default();
            *block += 1;
            open.prefix = Prefix::Known(format!("{step}{}.", letters(*block)));
        }
        match &open.prefix {
            Prefix::Known(prefix) | Prefix::BlockOf(prefix) => format!("{prefix}{}", open.given),
        }
    }

    /// Steps inside the step of this number.
    pub(super) fn enter_step(&mut self, number: &str) {
        self.open.push(Open { prefix: Prefix::Known(format!("{number}.")), given: 0 });
    }

    /// Steps inside the block of an outcome of the step of this number.
    pub(super) fn enter_block(&mut self, number: &str) {
        self.open.push(Open { prefix: Prefix::BlockOf(number.to_owned()), given: 0 });
    }

    /// Back to where the step or block stands.
    pub(super) fn leave(&mut self) {
        self.open.pop();
    }
}

/// `a` to `z`, then `aa`, `ab`, …
fn letters(position: usize) -> String {
    let mut rest = position;
    let mut letters = Vec::new();
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'a' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::{Numbering, letters};

    #[test]
    fn a_called_step_has_the_callers_number_before_it() {
        let mut numbers = Numbering::default();
        assert_eq!(numbers.next(), "1");
        numbers.enter_step("1");
        assert_eq!([numbers.next(), numbers.next()], ["1.1", "1.2"]);
        numbers.leave();
        assert_eq!(numbers.next(), "2");
    }

    #[test]
    fn only_blocks_that_hold_steps_take_a_letter() {
        let mut numbers = Numbering::default();
        let step = numbers.next();
        numbers.enter_block(&step);
        numbers.leave();
        numbers.enter_block(&step);
        assert_eq!([numbers.next(), numbers.next()], ["1a.1", "1a.2"]);
        numbers.leave();
        numbers.enter_block(&step);
        assert_eq!(numbers.next(), "1b.1");
    }

    #[test]
    fn letters_go_on_behind_z() {
        assert_eq!([letters(1), letters(26), letters(27), letters(53)], ["a", "z", "aa", "ba"]);
    }
}
