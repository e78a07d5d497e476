//! Cases in a Markdown text.
//!
//! A heading names a case; fenced blocks are its files. Words of a fence's info string: the language
//! (`lkn`, `yaml`, `ftl`, `message`), `file=NAME`, `wrong` or `right` (pages), `fragment` (passed over).

/// A fenced block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// `lkn`, `yaml`, `ftl`, `message`.
    pub language: String,
    /// The file's name in the library.
    pub file: Option<String>,
    /// `wrong` or `right`, or nothing.
    pub tag: Option<String>,
    /// Its text.
    pub text: String,
    /// The line of the Markdown text on which its text begins, from 1.
    pub line: usize,
}

/// Files that make one library, with the message that they must give.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Case {
    /// The heading.
    pub name: String,
    /// Its files.
    pub blocks: Vec<Block>,
    /// The whole message, where one is given.
    pub message: Option<Block>,
}

/// All cases of a text. On a page, `wrong` and `right` blocks are two cases.
pub fn cases(text: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    let mut heading = String::new();
    for piece in pieces(text) {
        match piece {
            Piece::Heading(name) => heading = name,
            Piece::Block(block) => take(block, &heading, &mut cases),
        }
    }
    cases
}

fn take(block: Block, heading: &str, cases: &mut Vec<Case>) {
    if block.language == "message" {
        if let Some(last) = cases.last_mut() {
            last.message = Some(block);
        }
        return;
    }
    if !["lkn", "yaml", "ftl"].contains(&block.language.as_str())
        || block.tag.as_deref() == Some("fragment")
    {
        return;
    }
    let name = match &block.tag {
        Some(tag) => tag.clone(),
        None => heading.to_owned(),
    };
    match cases.last_mut() {
        Some(last) if last.name == name => last.blocks.push(block),
        _ => cases.push(Case { name, blocks: vec![block], message: None }),
    }
}

enum Piece {
    Heading(String),
    Block(Block),
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut open: Option<Block> = None;
    for (number, line) in (1..).zip(text.lines()) {
        match &mut open {
            Some(_) if line.starts_with("```") => pieces.extend(open.take().map(Piece::Block)),
            Some(block) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            None => {
                if let Some(info) = line.strip_prefix("```") {
                    open = Some(block(info, number + 1));
                } else if line.starts_with('#') {
                    pieces.push(Piece::Heading(line.trim_start_matches('#').trim().to_owned()));
                }
            }
        }
    }
    pieces
}

fn block(info: &str, line: usize) -> Block {
    let mut words = info.split_whitespace();
    let language = words.next().unwrap_or_default().to_owned();
    let mut block = Block { language, file: None, tag: None, text: String::new(), line };
    for word in words {
        match word.strip_prefix("file=") {
            Some(file) => block.file = Some(file.to_owned()),
            None => block.tag = Some(word.to_owned()),
        }
    }
    block
}
