//! What follows from a number: `accept … otherwise …`, or arms.

use super::super::laying::Laying;
use super::draft::{ArmOut, Follows};
use crate::findings::flow::PlainWanted;
use crate::findings::names::{SaysTooLittle, TooMany};
use crate::findings::readings::NoOtherwise;
use crate::world::Bounds;
use locknut_finding::Span;
use locknut_graph::{ActArm, Rule, SourcedLimit, Verdict};
use locknut_quantity::{KindId, Limit, Range, Units};
use locknut_syntax::tree::{
    self, Accept, Act, Arm, Body, Expression, Guard, LimitForm, Name, Outcome,
};

/// A reading has at most so many arms.
pub(super) const MOST_ARMS: usize = 200;

/// The limits of an act's braces, and where each leads.
pub(super) struct Judged<'w> {
    pub(super) verdict: Verdict,
    pub(super) follows: Follows<'w>,
    /// Where the braces stand; none: there are none.
    pub(super) body: Option<Span>,
    /// The rule that the author gives its limit, and where.
    pub(super) rule: Option<(Rule, Span)>,
    /// The rules of its arms, in their order.
    pub(super) of_arms: Vec<Option<(Rule, Span)>>,
}

impl Judged<'_> {
    fn nothing() -> Self {
        Self {
            verdict: Verdict::None,
            follows: Follows::Next,
            body: None,
            rule: None,
            of_arms: Vec::new(),
        }
    }

    /// Tells limits of a difference in the unit of differences: what is written in °C in K.
    pub(super) fn of_difference(&mut self, units: &Units) {
        let limits: Vec<&mut Limit> = match &mut self.verdict {
            Verdict::None => Vec::new(),
            Verdict::Accept { limit, .. } => vec![&mut limit.limit],
            Verdict::Arms(arms) => {
                let limits = arms.iter_mut().map(|arm| arm.range.iter_mut().chain(&mut arm.whole));
                limits.flatten().collect()
            }
        };
        for limit in limits {
            limit.unit = units.of_difference(limit.unit);
        }
    }

    /// The limits, as far as they are fixed.
    pub(super) fn limits(&self) -> Vec<&Limit> {
        match &self.verdict {
            Verdict::None => Vec::new(),
            Verdict::Accept { limit, .. } => vec![&limit.limit],
            Verdict::Arms(arms) => arms.iter().filter_map(|arm| arm.range.as_ref()).collect(),
        }
    }
}

/// Reads the braces of an act whose reading is a number of this kind; none: whatever its limits say.
pub(super) fn judged<'w>(
    laying: &mut Laying<'w>,
    act: &'w Act,
    kind: Option<KindId>,
) -> Judged<'w> {
    match &act.body {
        Body::None | Body::Table { .. } => Judged::nothing(),
        Body::Verdict { accept, otherwise, span, .. } => {
            accepted(laying, accept.as_deref(), otherwise.as_deref(), kind, *span)
        }
        Body::Arms { arms, span } => {
            // What every arm asks for in vain is one mistake.
            let so_far = laying.found.reports().len();
            let judged = armed(laying, arms, kind, *span);
            laying.found.once_alike(so_far);
            judged
        }
    }
}

fn accepted<'w>(
    laying: &mut Laying<'w>,
    accept: Option<&'w Accept>,
    otherwise: Option<&'w Outcome>,
    kind: Option<KindId>,
    span: Span,
) -> Judged<'w> {
    let Some(accept) = accept else {
        laying.found.add(&otherwise_than_what(otherwise.map_or(span, |otherwise| otherwise.span)));
        return Judged::nothing();
    };
    if otherwise.is_none() {
        laying.found.add(&NoOtherwise { accept: accept.span });
    }
    Judged { follows: Follows::Verdict { otherwise }, ..accepts(laying, accept, kind, span) }
}

/// Reads what is accepted; what follows outside of it stands elsewhere.
pub(super) fn accepts<'w>(
    laying: &mut Laying<'w>,
    accept: &Accept,
    kind: Option<KindId>,
    span: Span,
) -> Judged<'w> {
    let follows = Follows::Verdict { otherwise: None };
    let per = accept.per.as_ref().map(|per| laying.prose(per));
    let Some(bounds) = laying.bounds(&accept.limit, kind) else {
        // Both ways are laid all the same: what is wrong further down is told, too.
        let verdict = Verdict::Arms(Vec::new());
        return Judged { verdict, follows, ..Judged::nothing() };
    };
    let (limit, computed) = match bounds {
        Bounds::Fixed(limit) => (limit, None),
        Bounds::Computed { limit, kind, unit, written } => {
            (Limit { range: Range::default(), kind, unit, decimals: 0, written }, Some(limit))
        }
    };
    let limit = SourcedLimit { limit, per, guard: None, span: accept.span };
    let rule = rule_of(laying, accept);
    Judged {
        verdict: Verdict::Accept { limit, computed },
        follows,
        body: Some(span),
        rule,
        of_arms: Vec::new(),
    }
}

fn armed<'w>(
    laying: &mut Laying<'w>,
    arms: &'w [Arm],
    kind: Option<KindId>,
    span: Span,
) -> Judged<'w> {
    let mut read = Vec::new();
    let mut out = Vec::new();
    let mut of_arms = Vec::new();
    let mut kind = kind;
    for arm in at_most(laying, arms) {
        let written = laying.written(arm_span(arm));
        let limit = arm_limit(laying, &arm.guard, kind);
        kind = kind.or(limit.as_ref().map(|limit| limit.kind));
        let way = u16::try_from(read.len()).unwrap_or(u16::MAX);
        let span = arm_span(arm);
        read.push(ActArm { range: limit, whole: None, answers: Vec::new(), written, span });
        of_arms.push(arm.rule.as_ref().map(|word| (rule_said(word), word.span)));
        out.push(ArmOut { ways: vec![(way, None)], outcome: Some(&arm.outcome) });
    }
    let (verdict, follows) = (Verdict::Arms(read), Follows::Arms(out));
    Judged { verdict, follows, body: Some(span), rule: None, of_arms }
}

/// How a limit decides, and where that is said.
fn rule_of(laying: &mut Laying<'_>, accept: &Accept) -> Option<(Rule, Span)> {
    let word = accept.rule.as_ref()?;
    let (said, Some(undecided)) = (rule_said(word), accept.undecided) else {
        return Some((rule_said(word), word.span));
    };
    if said.guards() {
        return Some((Rule::GuardedAcceptance, word.span));
    }
    laying.found.add(&PlainWanted::never_undecided(undecided));
    Some((said, word.span))
}

/// `guarded` or `as read`; the grammar knows no third.
fn rule_said(word: &Name) -> Rule {
    if word.text == "guarded" { Rule::Guarded } else { Rule::Simple }
}

/// The arms, but for those over the bound.
pub(super) fn at_most<'w>(laying: &mut Laying<'_>, arms: &'w [Arm]) -> &'w [Arm] {
    if let Some(first) = arms.get(MOST_ARMS) {
        laying.found.add(&TooMany {
            what: "arms of one reading",
            most: MOST_ARMS,
            span: first.span,
        });
    }
    arms.get(..MOST_ARMS).unwrap_or(arms)
}

/// A lone word may be the name of a limit: `usable-length -> go on`.
pub(super) fn arm_limit(
    laying: &mut Laying<'_>,
    guard: &Guard,
    kind: Option<KindId>,
) -> Option<Limit> {
    match guard {
        Guard::Limit(limit) => laying.limit(limit, kind),
        Guard::Words(words) => match words.as_slice() {
            [word] => {
                let form = LimitForm::Just(Expression::Name(word.clone()));
                laying.limit(&tree::Limit { form, span: word.span }, kind)
            }
            words => {
                let spans: Vec<Span> = words.iter().map(|word| word.span).collect();
                spans.first().iter().for_each(|span| laying.found.add(&PlainWanted::arm(**span)));
                None
            }
        },
    }
}

/// What stands before the arrow.
pub(super) fn arm_span(arm: &Arm) -> Span {
    guard_span(&arm.guard, arm.span)
}

pub(super) fn guard_span(guard: &Guard, all: Span) -> Span {
    match guard {
        Guard::Limit(limit) => limit.span,
        Guard::Words(words) => match (words.first(), words.last()) {
            (Some(first), Some(last)) => first.span.to(last.span),
            _ => all,
        },
    }
}

fn otherwise_than_what(span: Span) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `otherwise`".to_owned(),
        lacks: "not what would be accepted",
        span,
        consequence: "nobody can tell a good reading from a bad one",
        mend: "write before it: accept at most …",
    }
}
