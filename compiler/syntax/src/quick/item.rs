//! The items of a procedure: sections, steps, blocks.

use super::Reader;
use crate::tree::{Item, Lane, Step};

impl Reader<'_> {
    /// An item to the end of its line. What fits no rule declines the file.
    pub(super) fn item(&mut self) -> Option<Item> {
        let item = if self.declined { None } else { self.whole_item() };
        if item.is_none() {
            self.declined = true;
        }
        item
    }

    fn whole_item(&mut self) -> Option<Item> {
        let item = self.item_of_a_sort()?;
        self.item_end()?;
        Some(item)
    }

    fn items(&mut self) -> Option<Vec<Item>> {
        self.lines(Self::item)
    }

    fn items_behind(&mut self) -> Option<Vec<Item>> {
        self.ws();
        self.items()
    }

    fn item_of_a_sort(&mut self) -> Option<Item> {
        let from = self.at;
        let word = self.word();
        match word {
            "" if self.peek() == b'{' => {
                let items = self.items()?;
                Some(Item::Group { items, span: self.span(from) })
            }
            "step" => self.step().map(Item::Step),
            "section" => {
                self.keyword("section")?;
                self.gap()?;
                let title = self.quoted()?;
                let items = self.items_behind()?;
                Some(Item::Section { title, items, span: self.span(from) })
            }
            "when" => self.when(),
            "together" => self.together(),
            "without" => {
                self.keywords(&["without", "a", "break"])?;
                let items = self.items_behind()?;
                Some(Item::Unbroken { items, span: self.span(from) })
            }
            "at" => match self.attempt(Self::at_each) {
                Some(each) => Some(each),
                None => self.at_the_end(),
            },
            _ => {
                if word == "any"
                    && self.attempt(|reader| reader.keywords(&["any", "order"])).is_some()
                {
                    let items = self.items_behind()?;
                    return Some(Item::AnyOrder { items, span: self.span(from) });
                }
                self.known_act().map(Item::Act)
            }
        }
    }

    fn step(&mut self) -> Option<Step> {
        let from = self.at;
        self.keyword("step")?;
        let name = self.attempt(|reader| {
            reader.gap()?;
            reader.name()
        });
        let text = self.attempt(|reader| {
            reader.gap()?;
            reader.quoted()
        });
        let head = self.span(from);
        let clauses = self.clauses_with(&["by", "takes", "needs", "despite"]);
        let before = self.at;
        self.ws();
        let items = if self.peek() == b'{' {
            self.items()?
        } else {
            self.at = before;
            Vec::new()
        };
        Some(Step { name, text, clauses, items, head, span: self.span(from) })
    }

    fn when(&mut self) -> Option<Item> {
        let from = self.at;
        self.keyword("when")?;
        self.gap()?;
        let condition = Box::new(self.condition()?);
        let items = self.items_behind()?;
        let otherwise = self.attempt(|reader| {
            reader.ws();
            reader.keyword("otherwise")?;
            reader.items_behind()
        });
        let otherwise = otherwise.unwrap_or_default();
        Some(Item::When { condition, items, otherwise, span: self.span(from) })
    }

    /// People side by side, a lane each.
    fn together(&mut self) -> Option<Item> {
        let from = self.at;
        self.keyword("together")?;
        self.ws();
        let (mut lanes, mut strays) = (Vec::new(), Vec::new());
        self.lines(|reader| {
            match reader.attempt(Self::lane) {
                Some(lane) => lanes.push(lane),
                None => strays.push(reader.item()?),
            }
            Some(())
        })?;
        Some(Item::Together { lanes, strays, span: self.span(from) })
    }

    fn lane(&mut self) -> Option<Lane> {
        let from = self.at;
        let no_role = match self.word() {
            "together" | "step" | "section" | "when" => true,
            "any" => self.fits(|reader| reader.keywords(&["any", "order"])),
            _ => false,
        };
        (!no_role).then_some(())?;
        let role = self.name()?;
        let items = self.items_behind()?;
        let span = self.span(from);
        self.item_end()?;
        Some(Lane { role, items, span })
    }

    /// `at each pad of pad-bolts { … }`
    fn at_each(&mut self) -> Option<Item> {
        let from = self.at;
        self.keywords(&["at", "each"])?;
        self.gap()?;
        let point = self.name()?;
        self.gap()?;
        self.keyword("of")?;
        self.gap()?;
        let of = self.name()?;
        let items = self.items_behind()?;
        Some(Item::AtEach { point, of, items, span: self.span(from) })
    }

    fn at_the_end(&mut self) -> Option<Item> {
        let from = self.at;
        self.keywords(&["at", "the", "end"])?;
        self.ws();
        let items = if self.peek() == b'{' {
            self.items()?
        } else if self.word() == "step" {
            vec![Item::Step(self.step()?)]
        } else {
            vec![Item::Act(self.known_act()?)]
        };
        Some(Item::AtTheEnd { items, span: self.span(from) })
    }
}
