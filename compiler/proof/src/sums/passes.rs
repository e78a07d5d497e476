//! Several passes of one tightening: what is said of each, so that none is passed over.

use super::cases::cases;
use super::dress::Dress;
use super::{Judged, Outcome, load, verdicts, wrench};
use crate::hardware::{PassDoesNothing, WrenchTooCoarse};
use locknut_finding::Finding;
use locknut_graph::{Instrument, Stage, Tightening};
use num_traits::Signed;

/// `12 ± 2 N·m, then to 24 ± 2 N·m`
pub(super) fn written(of: &Tightening) -> String {
    let passes = of.passes();
    passes.iter().map(|pass| pass.written.as_str()).collect::<Vec<_>>().join(", then to ")
}

/// Whether the wrench keeps the tolerance of each.
pub(super) fn of_wrench(of: &Tightening, wrench: Option<&Instrument>) -> Vec<Judged> {
    let passes = of.passes();
    let several = passes.len() > 1;
    let code = WrenchTooCoarse::PAGE.code();
    let each = passes.into_iter().flat_map(|pass| {
        let judged = wrench::judged(pass, wrench, code);
        let named = |one: Judged| Judged { text: format!("{}: {}", pass.written, one.text), ..one };
        judged.into_iter().map(move |one| if several { named(one) } else { one })
    });
    each.collect()
}

/// Of several passes whether each goes on from those ahead of it, and whether one ahead of the greatest yields.
pub(super) fn ahead(of: &Tightening, wrench: Option<&Instrument>, dress: Dress<'_>) -> Vec<Judged> {
    let passes = of.passes();
    if passes.len() < 2 {
        return Vec::new();
    }
    let (outcome, text) = match of.idle_pass() {
        None => (Outcome::Holds, "no pass is below one ahead of it".to_owned()),
        Some((pass, before)) => (
            Outcome::Fails,
            format!(
                "{} comes after {} and does nothing; what follows is reckoned from the greatest pass",
                pass.written, before.written
            ),
        ),
    };
    let mut all = vec![Judged { outcome, code: Some(PassDoesNothing::PAGE.code()), text }];
    if let Some(nut) = of.prevailing.as_ref().filter(|_| load::all_taken(of, wrench).is_none()) {
        let (outcome, text) = match load::pass_taken(of, wrench) {
            Some(taken) => (
                Outcome::Fails,
                format!("of {} the self-locking nut may take all", taken.torque.written),
            ),
            None => (Outcome::Holds, "no pass is one of which the nut may take all".to_owned()),
        };
        let judged = Judged { outcome, code: Some(PassDoesNothing::PAGE.code()), text };
        all.extend(nut.greatest.is_positive().then_some(judged));
    }
    for pass in passes {
        let alone = Tightening { stages: vec![Stage::Torque(pass.clone())], ..of.clone() };
        let Ok(cases) = cases(&alone, wrench) else { continue };
        let stresses = verdicts::of_stress(&alone, &cases, dress);
        all.extend(
            stresses
                .into_iter()
                .map(|one| Judged { text: format!("{}: {}", pass.written, one.text), ..one }),
        );
    }
    all
}
