//! `do SUBTASK`: the subtask is laid in where it is called.

use super::super::acts::names;
use super::super::build::Ways;
use super::super::hand_over;
use super::super::laying::{Laying, Level, Lines, Stretch};
use super::super::scope::Scope;
use crate::findings::flow::{CallsItself, OtherModel, StandsNowhere, TooLarge};
use crate::findings::names::{NoSuchPoint, UnknownName};
use crate::findings::readings::NotHandedIn;
use crate::world::near::nearest;
use locknut_finding::{Call, Span};
use locknut_graph::{Assertion, NodeKind, Outline, Prose, VariableId, Way, Words};
use locknut_syntax::tree::{Act, Name, Object, Procedure};

/// Subtasks call each other at most so deep.
pub(in super::super) const MOST_CALLS_DEEP: usize = 24;

/// A subtask that is called.
pub(in super::super) struct Called<'w> {
    pub(in super::super) subtask: &'w Procedure,
    /// The point that it is done at.
    pub(in super::super) at: Option<String>,
    /// The line that calls it.
    pub(in super::super) span: Span,
}

impl<'w> Laying<'w> {
    /// Lays a called subtask in; `needs` is what the line itself asks for.
    pub(in super::super) fn call(
        &mut self,
        act: &'w Act,
        needs: &[Assertion],
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let Some(Object::Name(name)) = act.objects.first() else { return ways };
        let Some(subtask) = self.subtask(name) else { return ways };
        if !self.has_all_that_is_used(subtask, name.span) {
            return ways;
        }
        let Some(points) = self.done_at(act, subtask) else { return ways };
        let outer_step_needs = std::mem::take(&mut self.step_needs);
        let mut ways = ways;
        for at in points {
            if !self.is_read_there(subtask, at.as_ref(), act.span) {
                continue;
            }
            self.is_reached(&mut ways, act.span);
            let so_far = self.found.reports().len();
            let call = Call { subtask: subtask.name.text.clone(), span: act.span };
            let point = at.clone();
            ways = self.call_at(Called { subtask, at, span: act.span }, needs.to_vec(), ways, out);
            self.found.all_done_by(so_far, &call);
            self.found.once_at_points(so_far, point.as_deref());
        }
        self.step_needs = outer_step_needs;
        ways
    }

    fn call_at(
        &mut self,
        called: Called<'w>,
        needs: Vec<Assertion>,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let (title, _) = self.title_of(called.subtask);
        let at = called.at.as_deref().map(Words::of);
        let mut items = Lines::new();
        let (ways, node) = self.lay_in(called, needs, ways, &mut items);
        self.acts_laid += 1;
        out.push(Outline::Call { title, at, node, items });
        ways
    }

    /// The points at which a subtask of an assembly is done: those that are said, else that of the subtask around, if
    /// the assembly has one there. None where that cannot be, which is told.
    fn done_at(&mut self, act: &Act, subtask: &Procedure) -> Option<Vec<Option<String>>> {
        let on = subtask.on.as_ref();
        let own = on.and_then(|on| self.model.placed.get(&on.text));
        let own = own.map(Vec::as_slice).unwrap_or_default();
        let said = names(act, "at");
        let Some(first) = said.first() else {
            return Some(vec![self.scope.at.clone().filter(|around| own.contains(around))]);
        };
        if own.is_empty() || !self.knows_points_of(subtask) {
            let (subtask, point) = (subtask.name.text.clone(), first.text.clone());
            let (on, around) =
                (on.map(|on| on.text.clone()), self.done_at_one().map(str::to_owned));
            self.found.add(&StandsNowhere { subtask, on, around, point, span: first.span });
            return None;
        }
        let mut meant = Vec::new();
        for point in said {
            let here = self.scope.points.get(&point.text).unwrap_or(&point.text).clone();
            if !own.contains(&here) {
                let thing = on.map_or_else(String::new, |on| Words::of(&on.text).said);
                let (points, span) = (own.to_vec(), point.span);
                self.found.add(&NoSuchPoint { thing, point: here, points, span });
                return None;
            }
            meant.push(Some(here));
        }
        Some(meant)
    }

    /// Whether what a subtask is on stands at points of what the procedure around is on.
    fn knows_points_of(&self, subtask: &Procedure) -> bool {
        let around = self.around().and_then(|around| around.on.as_ref());
        let around = around.and_then(|on| self.world.models.get(&on.text));
        let on = subtask.on.as_ref();
        around.zip(on).is_none_or(|(around, on)| around.placed.contains_key(&on.text))
    }

    /// The subtask around, where that is on an assembly that stands at points: it is done at one of them.
    fn done_at_one(&self) -> Option<&'w str> {
        let around = self.around().filter(|around| around.keyword.text == "subtask")?;
        let on = around.on.as_ref()?;
        let placed = self.world.models.values().any(|model| model.placed.contains_key(&on.text));
        placed.then_some(around.name.text.as_str())
    }

    fn around(&self) -> Option<&'w Procedure> {
        let world = self.world;
        world.procedure(self.under_way.last()?)
    }

    fn subtask(&mut self, name: &Name) -> Option<&'w Procedure> {
        let world = self.world;
        let found = world.procedure(&name.text);
        let Some(subtask) = found.filter(|found| found.keyword.text == "subtask") else {
            let subtasks = world.procedures.iter().filter(|(_, one)| one.heading.subtask);
            let near = nearest(&name.text, subtasks.map(|(name, _)| name.as_str()));
            let else_is = found.map(|_| "a procedure, which is a job of its own".to_owned());
            let (wanted, name, span) = ("subtask", name.text.clone(), name.span);
            self.found.add(&UnknownName { wanted, name, span, near, else_is });
            return None;
        };
        self.unread |= subtask.broken;
        if self.under_way.contains(&name.text.as_str()) {
            let begins = self.under_way.iter().position(|one| *one == name.text).unwrap_or(0);
            let circle: Vec<&str> = self.under_way.iter().skip(begins).copied().collect();
            // Each of the circle meets it; it is told once, from the first by name.
            if circle.iter().min() == circle.first() {
                let circle = circle.into_iter().map(str::to_owned).collect();
                self.found.add(&CallsItself { call: name.span, circle });
            }
            return None;
        }
        if self.under_way.len() > MOST_CALLS_DEEP {
            self.found.add(&TooLarge::calls_too_deep(name.span, MOST_CALLS_DEEP));
            return None;
        }
        if let Some(on) = subtask
            .on
            .as_ref()
            .filter(|on| on.text != self.model.name && !self.model.made_of.contains(&on.text))
        {
            let (subtask, model) = (name.text.clone(), self.model.name.clone());
            let (call, declared) = (name.span, on.span);
            self.found.add(&OtherModel { subtask, on: on.text.clone(), model, call, declared });
            return None;
        }
        Some(subtask)
    }

    /// Lays a subtask between its `Enter` and its `Leave`.
    pub(in super::super) fn lay_in(
        &mut self,
        called: Called<'w>,
        mut needs: Vec<Assertion>,
        ways: Ways,
        out: &mut Lines,
    ) -> (Ways, locknut_graph::NodeId) {
        let Called { subtask, at, span } = called;
        let call = self.calls_laid;
        self.calls_laid = self.calls_laid.saturating_add(1);
        let name = subtask.name.text.clone();
        self.under_way.push(&subtask.name.text);
        let mut inside = self.scope_of(subtask, at.clone());
        let placed = subtask.on.as_ref().and_then(|on| self.model.placed.get(&on.text));
        inside.at_all = placed.filter(|_| at.is_none()).cloned().unwrap_or_default();
        self.hand_in(subtask, &mut inside);
        let outside = std::mem::replace(&mut self.scope, inside);
        let outer_stretch = std::mem::replace(&mut self.stretch, Stretch::Subtask);
        needs.extend(hand_over::entry_needs(self, subtask));
        let leaves = hand_over::leaves(self, subtask);
        let machine = (0u16..).map(VariableId).take(self.model.variables.len());
        let left = |variable: &VariableId| leaves.iter().any(|left| left.variable == *variable);
        let mut as_found: Vec<VariableId> = machine.filter(|variable| !left(variable)).collect();
        let enter = NodeKind::Enter { call, subtask: name.clone(), needs, as_found: Vec::new() };
        let enter = self.build.place(enter, Vec::new(), span, ways);
        let laid = self.build.mark();
        let ways = self.items(&subtask.items, Level::Steps, Ways::out(enter, Way::Next), out);
        self.scope = outside;
        self.stretch = outer_stretch;
        self.under_way.pop();
        // What none of its lines sets is as found: if it changes meanwhile, somebody beside it has changed it.
        as_found.retain(|variable| self.build.sets_since(laid, *variable));
        self.build.owes_as_found(enter, &as_found);
        if ways.none_left() {
            return (ways, enter);
        }
        let leave = NodeKind::Leave { call, subtask: name, at, as_found, leaves };
        let leave = self.build.place(leave, Vec::new(), span, ways);
        (Ways::out(leave, Way::Next), enter)
    }

    /// Whether the caller has read all that a subtask `uses`; says so where not.
    fn has_all_that_is_used(&mut self, subtask: &Procedure, call: Span) -> bool {
        let mut all = true;
        for used in super::super::heading::uses(subtask) {
            if self.scope.readings.contains_key(&used.text) {
                continue;
            }
            let known = self.scope.readings.keys().map(String::as_str);
            let near = nearest(&used.text, known);
            let (subtask, reading) = (subtask.name.text.clone(), used.text.clone());
            let used = used.span;
            self.found.add(&NotHandedIn { call, used, subtask, reading, near, elsewhere: None });
            all = false;
        }
        all
    }

    /// Whether what a subtask `uses` was read where it is done; says so where it was read at another of the points.
    fn is_read_there(&mut self, subtask: &Procedure, at: Option<&String>, call: Span) -> bool {
        let own = subtask.on.as_ref().and_then(|on| self.model.placed.get(&on.text));
        let Some(own) = own else { return true };
        let meant: &[String] = at.map_or(own, std::slice::from_ref);
        let mut all = true;
        for used in super::super::heading::uses(subtask) {
            let Some(named) = self.scope.readings.get(&used.text) else { continue };
            let of_them = named.points.iter().any(|point| own.contains(point));
            if !of_them || named.points == meant {
                continue;
            }
            let elsewhere = Some((named.points.clone(), at.cloned()));
            let (subtask, reading) = (subtask.name.text.clone(), used.text.clone());
            let used = used.span;
            self.found.add(&NotHandedIn { call, used, subtask, reading, near: None, elsewhere });
            all = false;
        }
        all
    }

    /// Gives a subtask the readings of its caller that it `uses`.
    fn hand_in(&self, subtask: &Procedure, inside: &mut Scope) {
        for used in super::super::heading::uses(subtask) {
            let Some(named) = self.scope.readings.get(&used.text).cloned() else { continue };
            inside.names.insert(named.id, used.text.clone());
            inside.readings.insert(used.text.clone(), named);
        }
    }

    fn title_of(&mut self, subtask: &'w Procedure) -> (Prose, Span) {
        let title = super::super::heading::title(subtask);
        let span = title.map_or(subtask.name.span, |title| title.span);
        (self.title_or_name(title, &subtask.name.text), span)
    }
}
