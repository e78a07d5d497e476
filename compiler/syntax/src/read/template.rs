//! Pairs → templates.

use super::{Build, Pair};
use crate::grammar::Rule;
use crate::tree::{Place, Template, TemplateLine};

impl Build {
    pub(super) fn template(&mut self, pair: &Pair<'_>) -> Option<Template> {
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let mut template = Template {
            name: self.name(parts.first()?),
            lines: Vec::new(),
            broken: false,
            doc: self.doc(pair),
            span: self.span(pair),
        };
        for part in parts.iter().skip(1) {
            if part.as_rule() == Rule::bad_item {
                self.bad(part, Rule::only_template_line);
                template.broken = true;
            } else {
                template.lines.extend(self.template_line(part));
            }
        }
        Some(template)
    }

    fn template_line(&self, pair: &Pair<'_>) -> Option<TemplateLine> {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        let mut next = || inner.next();
        Some(match pair.as_rule() {
            Rule::rectangle => TemplateLine::Rectangle {
                width: self.expression(&next()?),
                height: self.expression(&next()?),
                span,
            },
            Rule::disc => TemplateLine::Disc { diameter: self.expression(&next()?), span },
            Rule::notch => TemplateLine::Notch {
                side: self.name(&next()?),
                at: self.expression(&next()?),
                width: self.expression(&next()?),
                depth: self.expression(&next()?),
                span,
            },
            Rule::round_hole => TemplateLine::Hole {
                diameter: self.expression(&next()?),
                place: next().and_then(|place| self.place(&place)).map(Box::new),
                span,
            },
            Rule::holes => {
                let count = self.number(&next()?);
                let (diameter, circle) = (self.expression(&next()?), self.expression(&next()?));
                let (mut place, mut first) = (None, None);
                for part in inner {
                    match part.as_rule() {
                        Rule::place => place = self.place(&part).map(Box::new),
                        _ => first = part.into_inner().next().map(|angle| self.expression(&angle)),
                    }
                }
                TemplateLine::Holes { count, diameter, circle, place, first, span }
            }
            Rule::label => TemplateLine::Label {
                text: self.text(&next()?),
                place: self.place(&next()?)?,
                span,
            },
            _ => TemplateLine::Wall { least: self.expression(&next()?), span },
        })
    }

    fn place(&self, pair: &Pair<'_>) -> Option<Place> {
        let mut inner = pair.clone().into_inner();
        Some(Place { right: self.expression(&inner.next()?), up: self.expression(&inner.next()?) })
    }
}
