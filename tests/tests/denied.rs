//! What counts on a denied state, beside an explorer that shares nothing with the compiler: small procedures are made
//! up as lists of lines, printed for the compiler, and gone through line by line here, by what the reference says.

#![expect(
    clippy::indexing_slicing,
    reason = "states, parts and repeats are drawn below their number"
)]

#[path = "denied/explorer.rs"]
mod explorer;
#[path = "denied/lines.rs"]
mod lines;

use explorer::Judged;
use lines::Job;
use locknut_finding::{Report, Severity};
use locknut_library::check_files;
use locknut_proof::Wanted;
use locknut_tests::random::Random;
use std::collections::BTreeMap;

/// So many procedures are made up for each way of saying when the machine is safe to leave.
const JOBS: usize = 400;

#[test]
fn whatever_counts_on_a_denied_state_is_found_and_nothing_else() {
    let mut random = Random(0x9E37_79B9_7F4A_7C15);
    let mut seen: BTreeMap<(bool, bool), usize> = BTreeMap::new();
    let mut apart = Vec::new();
    for at in 0..JOBS * lines::SAFE.len() {
        let job = Job::made_up(&mut random, at % lines::SAFE.len());
        let source = job.written();
        let Some(told) = told(&source) else { continue };
        let should = explorer::judge(&job);
        *seen.entry((should.wrong, should.in_doubt)).or_default() += 1;
        if !agree(&told, should) {
            apart.push((source, told, should));
        }
    }
    apart.sort_by_key(|(source, ..)| source.len());
    let shown = apart.first().map(|(source, told, should)| {
        format!(
            "{} of them; the shortest:\n{source}\ntold {told:?}\nshould {should:?}",
            apart.len()
        )
    });
    assert!(shown.is_none(), "{}", shown.unwrap_or_default());
    // It says something only where each of these came often.
    for (wrong, in_doubt) in [(false, false), (false, true), (true, false)] {
        let times = seen.get(&(wrong, in_doubt)).copied().unwrap_or(0);
        assert!(times > JOBS / 10, "wrong {wrong}, in doubt {in_doubt}: only {times} of {seen:?}");
    }
}

/// The codes of the errors; none where the lines themselves are wrong.
fn told(source: &str) -> Option<Vec<&'static str>> {
    let files = vec![
        ("library.yaml".to_owned(), b"publisher: Kestmoor\n".to_vec()),
        ("one.lkn".to_owned(), source.as_bytes().to_vec()),
    ];
    let checked = check_files(files, Wanted::Verdict);
    let errors = checked.reports.iter().filter(|report| report.severity == Severity::Error);
    let codes: Vec<&'static str> = errors.map(|report: &Report| report.code).collect();
    let of_states = |code: &&str| code.starts_with("LN5") || code.starts_with("LN6");
    codes.iter().all(of_states).then_some(codes)
}

fn agree(told: &[&str], should: Judged) -> bool {
    let in_doubt = told.contains(&"LN517");
    // What is wrong anyhow may be told in the place of what is in doubt besides, or be told for that.
    if should.wrong {
        return !told.is_empty();
    }
    in_doubt == should.in_doubt && (in_doubt || told.is_empty())
}
