//! Procedures as others see them: their headings at once, their lines when somebody asks for them.

use super::mentions::mentions;
use crate::procedure::calls_of;
use locknut_finding::FileId;
use locknut_syntax::tree::{Declaration, Name, Procedure, Tree};
use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

/// What a file says to others: its procedures, and every name that its lines speak of.
#[derive(Clone, Debug, Default)]
pub struct Said {
    /// In written order.
    pub procedures: Vec<Listed>,
    /// Names, parted by blanks.
    pub mentioned: String,
    /// Something of it could not be read: what it does not say it may say there.
    pub broken: bool,
}

/// A procedure or subtask by its heading.
#[derive(Clone, Debug)]
pub struct Listed {
    /// What can be known of it without its lines.
    pub heading: Heading,
    /// Which of its file's procedures it is.
    position: usize,
    written: Arc<Written>,
}

/// What can be known of a procedure without its lines.
#[derive(Clone, Debug)]
pub struct Heading {
    /// Whether others may call it.
    pub subtask: bool,
    /// Its name.
    pub name: Name,
    /// The model after `on`.
    pub on: Option<Name>,
    /// Subtasks that its lines call.
    pub calls: BTreeSet<String>,
}

impl Heading {
    /// The word that it is declared with.
    pub fn keyword(&self) -> &'static str {
        if self.subtask { "subtask" } else { "procedure" }
    }

    fn of(procedure: &Procedure) -> Self {
        Self {
            subtask: procedure.keyword.text == "subtask",
            name: procedure.name.clone(),
            on: procedure.on.clone(),
            calls: calls_of(procedure),
        }
    }
}

/// A file's procedures, read when the first of them is asked for to be kept.
#[derive(Debug)]
struct Written {
    file: FileId,
    text: Arc<str>,
    procedures: OnceLock<Vec<Arc<Procedure>>>,
}

impl Written {
    fn procedures(&self) -> &[Arc<Procedure>] {
        self.procedures.get_or_init(|| self.read())
    }

    fn read(&self) -> Vec<Arc<Procedure>> {
        of_tree(&locknut_syntax::parse_again(self.file, &self.text))
    }
}

impl Said {
    /// What a file says that was read just now.
    pub fn of(file: FileId, text: &Arc<str>, tree: &Tree) -> Self {
        let procedures = of_tree(tree);
        let headings: Vec<Heading> = procedures.iter().map(|one| Heading::of(one)).collect();
        let names: Vec<&str> = mentions(tree).into_iter().collect();
        let broken = tree.broken || procedures.iter().any(|one| one.broken);
        // A library's trees are large beside their text: one that is asked for just once is sooner read again than kept.
        let once = matches!(headings.as_slice(), [only] if !only.subtask);
        let said = Self::listed(file, text, headings, names.join(" "), broken);
        if let Some(first) = said.procedures.first().filter(|_| !once) {
            first.written.procedures.get_or_init(|| procedures);
        }
        said
    }

    /// What a file is known to say: it is read again only once lines of it are asked for.
    pub fn listed(
        file: FileId,
        text: &Arc<str>,
        headings: Vec<Heading>,
        mentioned: String,
        broken: bool,
    ) -> Self {
        let written =
            Arc::new(Written { file, text: Arc::clone(text), procedures: OnceLock::new() });
        let listed =
            |(position, heading)| Listed { heading, position, written: Arc::clone(&written) };
        Self {
            procedures: headings.into_iter().enumerate().map(listed).collect(),
            mentioned,
            broken,
        }
    }
}

impl Listed {
    /// The file that it stands in.
    pub fn file(&self) -> FileId {
        self.written.file
    }

    /// All of it, which is kept from then on: others lay it in.
    pub fn kept(&self) -> Option<&Procedure> {
        self.written.procedures().get(self.position).map(AsRef::as_ref)
    }

    /// All of it, for whoever asks once.
    pub fn read(&self) -> Option<Arc<Procedure>> {
        match self.written.procedures.get() {
            Some(procedures) => procedures.get(self.position).cloned(),
            None => self.written.read().into_iter().nth(self.position),
        }
    }
}

fn of_tree(tree: &Tree) -> Vec<Arc<Procedure>> {
    let procedures = tree.declarations.iter().filter_map(|declaration| match declaration {
        Declaration::Procedure(procedure) => Some(Arc::clone(procedure)),
        Declaration::Model(_)
        | Declaration::Thing(_)
        | Declaration::Limit { .. }
        | Declaration::Vocabulary(_) => None,
    });
    procedures.collect()
}
