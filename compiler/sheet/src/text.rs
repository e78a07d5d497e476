//! The sheet as plain text: for snapshots, for a terminal, for reading aloud.

use crate::sheet::{Block, Field, Line, LineKind, Panel, Sheet, Table, TemplateSheet};

/// The whole sheet as plain text.
pub fn text(sheet: &Sheet) -> String {
    let mut out = Out::default();
    let head = &sheet.head;
    out.line(0, &head.publisher);
    out.line(0, &head.title);
    out.line(0, &head.model);
    for line in head.revision.iter().chain(&head.applies).chain(&head.purpose) {
        out.line(0, line);
    }
    if let Some((what, why)) = &head.replaces {
        out.line(0, &format!("{what}: {why}"));
    }
    out.panels(0, &sheet.banner);
    for list in &sheet.lists {
        out.line(0, "");
        out.line(0, &list.title);
        out.rows(1, &list.columns, &list.rows);
    }
    for asked in &sheet.asked {
        let boxes: Vec<String> = asked.answers.iter().map(|one| format!("[ ] {one}")).collect();
        let boxes = if boxes.is_empty() { "________".to_owned() } else { boxes.join("   ") };
        out.line(0, "");
        out.line(0, &format!("{}  {boxes}", asked.label));
    }
    out.blocks(0, &sheet.blocks);
    out.line(0, "");
    for signature in &sheet.signatures {
        out.line(0, &format!("{}: ______________________", signature.role));
    }
    for line in sheet.cautions.iter().chain(&sheet.proved) {
        out.line(0, line);
    }
    for template in &sheet.templates {
        out.line(0, "");
        out.template(template);
    }
    out.text
}

/// A template as plain text: all of it but the drawing.
pub fn template_text(template: &TemplateSheet) -> String {
    let mut out = Out::default();
    out.template(template);
    out.text
}

#[derive(Default)]
struct Out {
    text: String,
}

impl Out {
    fn line(&mut self, depth: usize, line: &str) {
        self.text.push_str(&"  ".repeat(depth));
        self.text.push_str(line);
        self.text.truncate(self.text.trim_end_matches(' ').len());
        self.text.push('\n');
    }

    fn template(&mut self, template: &TemplateSheet) {
        self.line(0, &template.title);
        for line in template.purpose.iter().chain(&template.how) {
            self.line(0, line);
        }
        for dimension in &template.dimensions {
            self.line(1, &format!("- {dimension}"));
        }
        for label in &template.labels {
            self.line(1, &format!("“{label}”"));
        }
    }

    fn panels(&mut self, depth: usize, panels: &[Panel]) {
        for panel in panels {
            self.line(depth, &format!("[{}] {}", panel.word, panel.text));
        }
    }

    fn rows(&mut self, depth: usize, columns: &[String], rows: &[Vec<String>]) {
        if columns.iter().any(|column| !column.is_empty()) {
            self.line(depth, &columns.join(" | "));
        }
        for row in rows {
            self.line(depth, row.join(" | ").trim_end_matches([' ', '|']));
        }
    }

    fn blocks(&mut self, depth: usize, blocks: &[Block]) {
        for block in blocks {
            self.block(depth, block);
        }
    }

    fn block(&mut self, depth: usize, block: &Block) {
        match block {
            Block::Section { title, blocks } => {
                self.line(0, "");
                self.line(depth, &format!("== {title} =="));
                self.blocks(depth, blocks);
            }
            Block::Step { number, text, by, takes, panels, blocks, do_not_leave } => {
                self.line(0, "");
                self.panels(depth, panels);
                let who: Vec<&str> = by.iter().chain(takes).map(String::as_str).collect();
                let who =
                    if who.is_empty() { String::new() } else { format!("  ({})", who.join(", ")) };
                self.line(depth, &format!("{number}  {}{who}", text.as_deref().unwrap_or("")));
                self.blocks(depth + 2, blocks);
                if let Some(bar) = do_not_leave {
                    self.line(depth, &format!("||| {bar}"));
                }
            }
            Block::Line(line) => self.act(depth, line),
            Block::Group { label, blocks, .. } => {
                self.line(depth, label);
                self.blocks(depth + 1, blocks);
            }
            Block::Clock { fields, .. } => {
                let fields: Vec<String> =
                    fields.iter().map(|field| format!("{field} __:__")).collect();
                self.line(depth, &fields.join("   "));
            }
            Block::Note { label, text } => self.line(depth, &format!("{label}: {text}")),
            Block::Not { text } => self.line(depth, &format!("! {text}")),
        }
    }

    fn act(&mut self, depth: usize, line: &Line) {
        self.panels(depth, &line.panels);
        for caution in &line.cautions {
            self.line(depth, &format!("! {caution}"));
        }
        let tick = if matches!(line.kind, LineKind::Tick) { "[ ] " } else { "" };
        let source = line.source.as_ref().map(|source| format!("  [{source}]")).unwrap_or_default();
        self.line(depth, &format!("{tick}{}{source}", line.text));
        if let Some(order) = &line.order {
            self.line(depth + 1, &order.words);
        }
        match &line.kind {
            LineKind::Tick => {}
            LineKind::Fields(fields) => {
                for field in fields {
                    self.field(depth + 1, field);
                }
            }
            LineKind::Answers(answers) => {
                let boxes: Vec<String> =
                    answers.iter().map(|answer| format!("[ ] {answer}")).collect();
                self.line(depth + 1, &boxes.join("   "));
            }
            LineKind::Computed { rule, field } => {
                self.line(depth + 1, rule);
                self.field(depth + 1, field);
            }
            LineKind::LookUp { table, field } => {
                self.table(depth + 1, table);
                self.field(depth + 1, field);
            }
        }
        for table in &line.tables {
            self.table(depth + 1, table);
        }
        for outcome in &line.outcomes {
            for (position, follow) in outcome.follows.iter().enumerate() {
                let text = match position {
                    0 => format!("-> {} {}", outcome.when, follow.text),
                    _ => format!("   {}", follow.text),
                };
                self.line(depth + 1, &text);
                self.blocks(depth + 2, &follow.blocks);
            }
            if let Some(stands) = &outcome.stands {
                self.line(depth + 2, stands);
            }
        }
    }

    fn field(&mut self, depth: usize, field: &Field) {
        let limit = field.limit.as_ref().map(|limit| format!("   {limit}")).unwrap_or_default();
        self.line(depth, &format!("{}: ________ {}{limit}", field.label, field.unit));
    }

    fn table(&mut self, depth: usize, table: &Table) {
        self.rows(depth, &table.columns, &table.rows);
        if let Some(caption) = &table.caption {
            self.line(depth, caption);
        }
    }
}
