//! `expect …`, `usually …`: where a reading may come to lie.

use super::super::laying::Laying;
use super::limits::{shows_expected, within_reach};
use super::shape::{clause, limit_in};
use crate::findings::readings::{Usual, UsuallyOutside};
use crate::world::Instrument;
use locknut_finding::Span;
use locknut_quantity::{KindId, Limit};
use locknut_syntax::tree::Act;

/// What `expect` and `usually` say.
pub(super) struct Expected {
    pub(super) expect: Option<Limit>,
    pub(super) usually: Option<Limit>,
    /// Where `expect` stands at the line itself.
    pub(super) span: Option<Span>,
    /// It stands there and could not be understood: what may be read is not known.
    pub(super) unread: bool,
}

impl Expected {
    /// The same of a substitute, which must be able to show it, too.
    pub(super) fn by(
        &self,
        laying: &mut Laying<'_>,
        instrument: Option<&Instrument>,
        substitute: Span,
    ) -> Self {
        let reached =
            |expect: &(&Limit, Span)| shows_expected(laying, *expect, substitute, instrument);
        let own = self.expect.as_ref().zip(self.span);
        let expect = match own {
            Some(_) => own.filter(reached).map(|(expect, _)| expect.clone()),
            None => self.expect.clone(),
        };
        Self { expect, usually: self.usually.clone(), span: self.span, unread: self.unread }
    }
}

/// Reads `expect` and `usually`, and holds them against the instrument and each other.
pub(super) fn expected(
    laying: &mut Laying<'_>,
    act: &Act,
    kind: Option<KindId>,
    instrument: Option<&Instrument>,
) -> Expected {
    let mut read = |word: &str| {
        let written = limit_in(act, word)?;
        Some((laying.limit(written, kind)?, written.span))
    };
    let (expect, mut usually) = (read("expect"), read("usually"));
    let unread = expect.is_none() && clause(act, "expect").is_some();
    let expect =
        expect.filter(|(limit, span)| within_reach(laying, limit, *span, "expects", instrument));
    // Of a figure that is refused nothing follows.
    usually = usually
        .filter(|(limit, span)| within_reach(laying, limit, *span, "takes for usual", instrument));
    if let Some((open, span)) = usually.take_if(|(usually, _)| !has_both_ends(usually)) {
        laying.found.add(&UsuallyOutside::one_end(&open.written, span));
    }
    if let Some((expect, expect_span)) = &expect
        && let Some((beyond, span)) =
            usually.take_if(|(usually, _)| !expect.range.covers(&usually.range))
    {
        laying.found.add(&UsuallyOutside {
            usually: beyond.written.clone(),
            span,
            expect: expect.written.clone(),
            expect_span: *expect_span,
            of: Usual::Read,
        });
    }
    let span = expect.as_ref().map(|(_, span)| *span);
    let limit = |(limit, _)| limit;
    Expected { expect: expect.map(limit), usually: usually.map(limit), span, unread }
}

/// Whether what is usual says how far machines are spread.
pub(super) fn has_both_ends(usually: &Limit) -> bool {
    usually.range.lower.is_some() && usually.range.upper.is_some()
}
