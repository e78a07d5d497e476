//! Every name that any line speaks of, beside the line that declares it.

use super::read::sides;
use locknut_syntax::tree::{
    Act, Arm, Attribute, Body, Clause, ClauseValue, Condition, Declaration, End, Expression, Guard,
    Header, Item, Limit, ModelItem, Name, Object, Outcome, Part, Piece, Set, Step, TemplateLine,
    Text, Tree, Vocabulary,
};
use std::collections::BTreeSet;

/// The names that a file mentions. A name counts wherever it stands: what is really meant there is
/// for others to settle, and a warning too few is better than one too many.
pub(super) fn mentions(tree: &Tree) -> BTreeSet<&str> {
    let mut mentioned = Mentioned::default();
    for declaration in &tree.declarations {
        mentioned.declaration(declaration);
    }
    mentioned.names
}

#[derive(Default)]
struct Mentioned<'t> {
    names: BTreeSet<&'t str>,
}

impl<'t> Mentioned<'t> {
    fn declaration(&mut self, declaration: &'t Declaration) {
        match declaration {
            Declaration::Model(model) => model.items.iter().for_each(|item| self.model_item(item)),
            Declaration::Thing(thing) => self.attributes(&thing.attributes),
            Declaration::Limit { limit, .. } => self.limit(limit),
            Declaration::Procedure(procedure) => {
                for header in &procedure.headers {
                    self.header(header);
                }
                self.items(&procedure.items);
            }
            Declaration::Vocabulary(Vocabulary::Formula(formula)) => {
                self.expression(&formula.value);
            }
            Declaration::Vocabulary(Vocabulary::Table(table)) => {
                for row in &table.rows {
                    self.expression(&row.key);
                    self.limit(&row.value);
                }
                self.texts(table.per.as_ref());
            }
            Declaration::Vocabulary(Vocabulary::Template(template)) => {
                for line in &template.lines {
                    for dimension in line.dimensions() {
                        self.expression(dimension);
                    }
                    if let TemplateLine::Label { text, .. } = line {
                        self.text(text);
                    }
                }
            }
            Declaration::Vocabulary(_) => {}
        }
    }

    fn model_item(&mut self, item: &'t ModelItem) {
        match item {
            ModelItem::Title { text, .. } => self.text(text),
            ModelItem::Limit { limit, .. } => self.limit(limit),
            ModelItem::Element { attributes, .. } => self.attributes(attributes),
            ModelItem::Reading { clauses, .. } => self.clauses(clauses),
            ModelItem::Change { state, needs, .. } => {
                self.name(state);
                self.clauses(needs);
            }
            ModelItem::NeverState { condition, clauses, .. } => {
                self.condition(condition);
                self.clauses(clauses);
            }
            ModelItem::NeverAct { act, .. } => self.act(act),
            ModelItem::Hazard { text, condition, .. } => {
                self.text(text);
                if let Some(condition) = condition {
                    self.condition(condition);
                }
            }
            ModelItem::SafeToLeave { condition, .. } => self.condition(condition),
            ModelItem::MadeOf { .. }
            | ModelItem::Series { .. }
            | ModelItem::Serial { .. }
            | ModelItem::State { .. } => {}
        }
    }

    fn header(&mut self, header: &'t Header) {
        match header {
            Header::Title { text, .. } => self.text(text),
            Header::Replaces { because, .. } => self.texts(because.as_ref()),
            Header::StartsUnknown { state, .. } => self.name(state),
            Header::Uses { readings, .. } => readings.iter().for_each(|name| self.name(name)),
            Header::For { condition, .. } | Header::Starts { condition, .. } => {
                self.condition(condition);
            }
            Header::Leaves { condition, because, .. } => {
                self.condition(condition);
                self.texts(because.as_ref());
            }
            Header::Revision { .. } | Header::Crew { .. } => {}
        }
    }

    fn attributes(&mut self, attributes: &'t [Attribute]) {
        for part in attributes.iter().flat_map(|attribute| &attribute.parts) {
            match part {
                Part::Word(name) => self.name(name),
                Part::Limit(limit) => self.limit(limit),
                Part::Text(text) => self.text(text),
                Part::Condition(condition) => self.condition(condition),
            }
        }
    }

    fn items(&mut self, items: &'t [Item]) {
        for item in items {
            match item {
                Item::Section { title, items, .. } => {
                    self.text(title);
                    self.items(items);
                }
                Item::Step(step) => self.step(step),
                Item::Act(act) => self.act(act),
                Item::AnyOrder { items, .. }
                | Item::Group { items, .. }
                | Item::Unbroken { items, .. }
                | Item::AtEach { items, .. }
                | Item::AtTheEnd { items, .. } => self.items(items),
                Item::Together { lanes, strays, .. } => {
                    for lane in lanes {
                        self.items(&lane.items);
                    }
                    self.items(strays);
                }
                Item::When { condition, items, otherwise, .. } => {
                    self.condition(condition);
                    self.items(items);
                    self.items(otherwise);
                }
            }
        }
    }

    fn step(&mut self, step: &'t Step) {
        self.texts(step.text.as_ref());
        self.clauses(&step.clauses);
        self.items(&step.items);
    }

    fn act(&mut self, act: &'t Act) {
        for object in &act.objects {
            match object {
                Object::Name(name) => self.name(name),
                Object::Text(text) => self.text(text),
                Object::Definition { value, .. } => self.expression(value),
                Object::Quantity(_) | Object::Typed { .. } | Object::UpTo { .. } => {}
            }
        }
        self.clauses(&act.clauses);
        match &act.body {
            Body::None => {}
            Body::Verdict { accept, substitutes, otherwise, .. } => {
                for substitute in substitutes {
                    self.items(&substitute.items);
                    self.act(&substitute.act);
                    self.texts(
                        substitute.answers.as_ref().and_then(|answers| answers.noting.as_ref()),
                    );
                }
                if let Some(accept) = accept {
                    self.limit(&accept.limit);
                    self.texts(accept.per.as_ref());
                }
                if let Some(outcome) = otherwise {
                    self.outcome(outcome);
                }
            }
            Body::Arms { arms, .. } => arms.iter().for_each(|arm| self.arm(arm)),
            Body::Table { by, rows, .. } => {
                self.expression(by);
                for row in rows {
                    self.guard(&row.guard);
                }
            }
        }
    }

    fn arm(&mut self, arm: &'t Arm) {
        self.guard(&arm.guard);
        self.outcome(&arm.outcome);
    }

    fn guard(&mut self, guard: &'t Guard) {
        match guard {
            Guard::Limit(limit) => self.limit(limit),
            // An answer, or the name of a limit.
            Guard::Words(words) => {
                for word in words {
                    self.name(word);
                }
            }
        }
    }

    fn outcome(&mut self, outcome: &'t Outcome) {
        self.items(&outcome.items);
        match &outcome.end {
            Some(
                End::GoOn { noting: Some(text), .. }
                | End::Refer { to: text, .. }
                | End::Stop { text, .. },
            ) => {
                self.text(text);
            }
            Some(End::Repeat { failing: Some(failing), .. }) => self.outcome(failing),
            Some(
                End::GoOn { noting: None, .. }
                | End::Repeat { failing: None, .. }
                | End::Done { .. },
            )
            | None => {}
        }
    }

    fn clauses(&mut self, clauses: &'t [Clause]) {
        for clause in clauses {
            match &clause.value {
                ClauseValue::Names(names) => names.iter().for_each(|name| self.name(name)),
                ClauseValue::Text(text) | ClauseValue::Despite { because: Some(text), .. } => {
                    self.text(text);
                }
                ClauseValue::Limit(limit) | ClauseValue::Target { limit, .. } => self.limit(limit),
                ClauseValue::Condition(condition) => self.condition(condition),
                ClauseValue::Definition { value, .. } => self.expression(value),
                ClauseValue::Set(set) => {
                    if let Set::Named(name) = &**set {
                        self.name(name);
                    }
                }
                ClauseValue::Outcome(outcome) => self.outcome(outcome),
                ClauseValue::Despite { because: None, .. } => {}
            }
        }
    }

    fn texts(&mut self, text: Option<&'t Text>) {
        if let Some(text) = text {
            self.text(text);
        }
    }

    fn text(&mut self, text: &'t Text) {
        for piece in &text.pieces {
            if let Piece::Hole { value, .. } = piece {
                self.expression(value);
            }
        }
    }

    fn limit(&mut self, limit: &'t Limit) {
        for side in sides(limit) {
            self.expression(side);
        }
    }

    fn expression(&mut self, expression: &'t Expression) {
        match expression {
            Expression::Quantity(_) => {}
            Expression::Name(name) => self.name(name),
            Expression::Point { reading, .. } => self.name(reading),
            Expression::Call { arguments, .. } => {
                for part in arguments {
                    self.expression(part);
                }
            }
            Expression::Binary { left, right, .. } => {
                self.expression(left);
                self.expression(right);
            }
            Expression::Negative(inner, _) | Expression::PercentOf { of: inner, .. } => {
                self.expression(inner);
            }
        }
    }

    fn condition(&mut self, condition: &'t Condition) {
        match condition {
            Condition::Is { subject, lasting, .. } => {
                self.name(subject);
                if let Some((duration, _)) = lasting {
                    self.expression(duration);
                }
            }
            Condition::Within { value, limit, .. } => {
                self.expression(value);
                self.limit(limit);
            }
            Condition::Not(inner, _) => self.condition(inner),
            Condition::And(parts, _) | Condition::Or(parts, _) => {
                for part in parts {
                    self.condition(part);
                }
            }
            Condition::Series { .. }
            | Condition::Serial { .. }
            | Condition::Each { .. }
            | Condition::Mark { .. } => {}
        }
    }

    fn name(&mut self, name: &'t Name) {
        self.names.insert(&name.text);
    }
}
