//! Text by an author, with its checked places.

use locknut_finding::Span;
use locknut_quantity::{Limit, Quantity};

/// A thing's name as it is said: `brake-cover` is said "brake cover" unless a vocabulary or a
/// translation says otherwise.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Words {
    /// As declared: the key of its translation.
    pub name: String,
    /// In the library's language.
    pub said: String,
}

impl Words {
    /// A name with its hyphens said as blanks.
    pub fn of(name: &str) -> Self {
        Self { name: name.to_owned(), said: name.replace('-', " ") }
    }

    /// A name that its declaration words itself.
    pub fn titled(name: &str, said: &str) -> Self {
        Self { name: name.to_owned(), said: said.to_owned() }
    }
}

/// Text by an author.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Prose {
    /// In order.
    pub pieces: Vec<ProsePiece>,
    /// Where it is written.
    pub span: Span,
}

/// A piece of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProsePiece {
    /// Plain words in the library's language.
    Plain(String),
    /// A thing by its name, with the article that its author wrote.
    Name { article: Option<String>, words: Words },
    /// Printed in the reader's units.
    Quantity(Quantity),
    /// Printed in the reader's units, never outside itself.
    Limit(Limit),
    /// The reading itself, once it is taken; on paper its name.
    Reading(crate::ReadingId),
}

impl Prose {
    /// Plain text without any checked place.
    pub fn plain(text: impl Into<String>) -> Self {
        Self { pieces: vec![ProsePiece::Plain(text.into())], span: Span::default() }
    }

    /// The text as its author wrote it, with names and quantities in its places.
    pub fn written(&self) -> String {
        self.written_with(|_| None)
    }

    /// The same with what is known of its readings.
    pub fn written_with(&self, reading: impl Fn(crate::ReadingId) -> Option<String>) -> String {
        self.pieces
            .iter()
            .map(|piece| match piece {
                ProsePiece::Plain(text) => text.clone(),
                ProsePiece::Name { article, words } => match article {
                    Some(article) => format!("{article} {}", words.said),
                    None => words.said.clone(),
                },
                ProsePiece::Quantity(quantity) => quantity.written.clone(),
                ProsePiece::Limit(limit) => limit.written.clone(),
                ProsePiece::Reading(id) => reading(*id).unwrap_or_else(|| "…".to_owned()),
            })
            .collect()
    }

    /// The author's text with places as `{1}`, `{2}`, …: the key under which it is translated.
    pub fn key(&self) -> String {
        let mut key = String::new();
        let mut place = 0_usize;
        for piece in &self.pieces {
            if let ProsePiece::Plain(text) = piece {
                key.push_str(text);
            } else {
                place += 1;
                key.extend(["{", &place.to_string(), "}"]);
            }
        }
        key
    }
}
