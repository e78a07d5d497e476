//! Which machine it is: asked once, before the first step.

use super::close::value_entry;
use super::{Answer, Job, Refused, Told, set};
use locknut_graph::{VariableId, VariableKind, Way};

impl Job<'_> {
    pub(super) fn series(
        &mut self,
        variable: VariableId,
        answer: &Answer,
        at: &str,
    ) -> Result<Told, Refused> {
        let Answer::Picked(picked) = answer else { return Err(Refused::NoAnswer) };
        let picked = u8::try_from(*picked).map_err(|_too_many| Refused::NoAnswer)?;
        let declared = self.graph.variable(variable);
        let said =
            declared.values.get(usize::from(picked)).ok_or(Refused::NoAnswer)?.words.said.clone();
        self.variant_is(variable, picked, "series", &said, at)
    }

    pub(super) fn serial(
        &mut self,
        variable: VariableId,
        answer: &Answer,
        at: &str,
    ) -> Result<Told, Refused> {
        let Answer::Typed(texts) = answer else { return Err(Refused::NoAnswer) };
        let text = texts.first().map(|text| text.trim().to_owned()).unwrap_or_default();
        let number: u64 =
            text.parse().map_err(|_no_number| Refused::NotANumber { text: text.clone() })?;
        let VariableKind::Serial { stretches } = &self.graph.variable(variable).kind else {
            return Err(Refused::NoAnswer);
        };
        let inside = |(from, to): &(Option<u64>, Option<u64>)| {
            from.is_none_or(|from| number >= from) && to.is_none_or(|to| number <= to)
        };
        let position = stretches.iter().position(inside).ok_or(Refused::NotFor)?;
        let position = u8::try_from(position).map_err(|_too_many| Refused::NotFor)?;
        self.variant_is(variable, position, "serial", &text, at)
    }

    fn variant_is(
        &mut self,
        variable: VariableId,
        value: u8,
        name: &str,
        said: &str,
        at: &str,
    ) -> Result<Told, Refused> {
        let allowed = self.graph.starts.iter().find(|(of, _)| *of == variable);
        if allowed.is_some_and(|(_, values)| !values.contains(&value)) {
            return Err(Refused::NotFor);
        }
        set(&mut self.values, variable, value);
        self.variant.retain(|asked| *asked != variable);
        let entry =
            Self::entry("", None, "machine", name, vec![value_entry("", said, "")], "next", at);
        self.record.add(entry);
        self.settle();
        Ok(Told { way: Way::Next, result: None })
    }
}
