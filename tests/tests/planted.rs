//! Faults planted in the demo library: each is named at its place, with a path that a fitter would follow.

use locknut_finding::{Edit, Report, Sources};
use locknut_library::check_in_memory;
use locknut_tests::files;
use std::collections::{BTreeMap, BTreeSet};

struct Planted {
    file: &'static str,
    /// What is replaced, and by what.
    from: &'static str,
    to: &'static str,
    code: &'static str,
    /// What stands at the finding's first label.
    at: &'static str,
    /// Words that the path must tell, where a path is needed.
    path: &'static [&'static str],
}

const PLANTED: &[Planted] = &[
    Planted {
        file: "slew-brake-gap.lkn",
        from: "wait discharge-time since lock-off",
        to: "wait 5 min since lock-off",
        code: "LN506",
        at: "remove brake-cover",
        path: &["step 5"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "    wait discharge-time since lock-off\n",
        to: "",
        code: "LN506",
        at: "remove brake-cover",
        path: &["step 4"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: ", proves supply is isolated",
        to: "",
        code: "LN505",
        at: "remove brake-cover",
        path: &["step 5"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "      set supply to isolated\n",
        to: "",
        code: "LN602",
        at: "lock isolator-lock",
        path: &["step 2"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "takes 10 min { set jib to tethered }",
        to: "takes 10 min { confirm \"The rope is at hand.\" }",
        code: "LN502",
        at: "remove brake-cover",
        path: &["step 5"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "      tighten cover-bolts using torque-wrench\n",
        to: "",
        code: "LN605",
        at: "fit cover-bolts",
        path: &["step 8", "done"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "      remove cover-bolts\n",
        to: "",
        code: "LN602",
        at: "remove brake-cover",
        path: &["step 5"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "      unlock isolator-lock\n",
        to: "",
        code: "LN513",
        at: "set supply to live",
        path: &["step 9"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "by all, takes 5 min { set jib to free }",
        to: "by all, takes 5 min { confirm \"The rope is coiled.\" }",
        code: "LN507",
        at: "set jib to tethered",
        path: &["done"],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "using feeler-gauge",
        to: "using torque-wrench",
        code: "LN302",
        at: "torque-wrench",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "0.10 .. 0.45 mm",
        to: "0.10 .. 0.30 mm",
        code: "LN313",
        at: "",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "repeat gap up to 2 times",
        to: "repeat gap",
        code: "LN411",
        at: "",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "accept dead\n",
        to: "accept at most 50 mm\n",
        code: "LN202",
        at: "",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "{ set jib to free }",
        to: "{ set jib to fre }",
        code: "LN109",
        at: "fre",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "remove shim-pack",
        to: "remove shim-pak",
        code: "LN101",
        at: "shim-pak",
        path: &[],
    },
    Planted {
        file: "slew-brake-gap.lkn",
        from: "by all, takes 10 min",
        to: "by rigger, takes 10 min",
        code: "LN701",
        at: "step tether",
        path: &[],
    },
    Planted {
        file: "slew-gearbox-oil.lkn",
        from: "renew drain-seal",
        to: "fit drain-seal",
        code: "LN603",
        at: "fit drain-seal",
        path: &["step 6"],
    },
    Planted {
        file: "slew-gearbox-oil.lkn",
        from: "      remove drain-plug\n      drain gear-oil",
        to: "      drain gear-oil\n      remove drain-plug",
        code: "LN503",
        at: "drain gear-oil",
        path: &["step 4"],
    },
    Planted {
        file: "slew-gearbox-oil.lkn",
        from: "{ fill gear-oil with gear-oil-220 }",
        to: "{ confirm \"The pipe is clean.\" }",
        code: "LN605",
        at: "drain gear-oil",
        path: &["done"],
    },
    Planted {
        file: "slew-gearbox-oil.lkn",
        from: "over 30 to 50 °C",
        to: "over 35 to 50 °C",
        code: "LN305",
        at: "",
        path: &[],
    },
    Planted {
        file: "slewing-ring-bolts.lkn",
        from: "      apply thread-oil to ring-bolts\n",
        to: "      remove ring-bolts\n      fit ring-bolts\n",
        code: "LN607",
        at: "tighten ring-bolts",
        path: &["step 5"],
    },
    Planted {
        file: "slewing-ring-bolts.lkn",
        from: "by all, takes 10 min { set jib to tethered }",
        to: "by all, takes 10 min { confirm \"The rope is at hand.\" }",
        code: "LN503",
        at: "slacken ring-bolts",
        path: &["step 5"],
    },
    Planted {
        file: "calliper-alignment.lkn",
        from: "    remove calliper-peg\n",
        to: "",
        code: "LN509",
        at: "fit calliper-peg",
        path: &["step 6a.1"],
    },
    Planted {
        file: "calliper-alignment.lkn",
        from: "slacken calliper-bolts",
        to: "slacken calliper-bolts\n    fit stop-screw",
        code: "LN604",
        at: "fit stop-screw",
        path: &[],
    },
    Planted {
        file: "hoist-rope-check.lkn",
        from: "  do hoist-lock-out\n",
        to: "",
        code: "LN502",
        at: "remove winch-guard",
        path: &["step 1"],
    },
    Planted {
        file: "hoist-limit-switch.lkn",
        from: "      remove cover-screws\n      remove switch-cover\n      disconnect switch-plug",
        to: "      remove cover-screws\n      remove switch-cover",
        code: "LN601",
        at: "connect switch-plug",
        path: &["step 5"],
    },
    Planted {
        file: "hoist-limit-switch.lkn",
        from: "repeat try up to 3 times",
        to: "repeat proof up to 3 times",
        code: "",
        at: "",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "        hold calliper \"with both hands, from below\" until undo is done\n",
        to: "",
        code: "LN704",
        at: "remove calliper-bolts, calliper",
        path: &["step 7"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "until fasten is done",
        to: "until prove-dead is done",
        code: "LN711",
        at: "hold calliper",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "hold calliper \"against its seat\" by mate until",
        to: "hold calliper \"against its seat\" by fitter until",
        code: "LN702",
        at: "fit calliper",
        path: &["step 11"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "step fasten \"Bolt the calliper on.\" by fitter,",
        to: "step fasten \"Bolt the calliper on.\" by mate,",
        code: "LN702",
        at: "fit calliper",
        path: &["step 11"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "    sign \"The disc turns free, and the calliper sits on its seat all round.\" by foreman independent of fasten\n",
        to: "",
        code: "LN707",
        at: "renew lining-disc",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "by foreman independent of fasten",
        to: "by fitter independent of fasten",
        code: "LN706",
        at: "fit calliper",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "by foreman independent of fasten",
        to: "by mate independent of fasten",
        code: "LN707",
        at: "renew lining-disc",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "crew     fitter, mate, foreman",
        to: "crew     fitter, foreman",
        code: "LN701",
        at: "step tether",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "    step lock-off \"Open the isolator. Lock it. Keep the key.\" by fitter, takes 5 min {\n      set supply to isolated\n",
        to: "    step lock-off \"Open the isolator. Lock it. Keep the key.\" by fitter, takes 5 min {\n",
        code: "LN602",
        at: "lock isolator-lock",
        path: &["step 2"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "        step \"Wipe the seat of the calliper.\" takes 3 min { confirm \"No dust is left on the seat.\" }\n",
        to: "        step \"Put the cover on.\" takes 3 min { fit brake-cover }\n",
        code: "LN602",
        at: "remove lining-disc",
        path: &["step 7", "step 9"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "    step \"Free the jib.\" by fitter, mate, takes 5 min { set jib to free }\n",
        to: "",
        code: "LN507",
        at: "set jib to tethered",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "          remove lining-disc\n          renew lining-disc\n",
        to: "          remove lining-disc\n          fit lining-disc\n",
        code: "LN603",
        at: "fit lining-disc",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "        tighten calliper-bolts using torque-wrench\n",
        to: "",
        code: "LN605",
        at: "fit calliper-bolts",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "    wait discharge-time since lock-off\n",
        to: "    wait discharge-time since tether\n",
        code: "LN506",
        at: "remove cover-bolts, brake-cover",
        path: &["step 5"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "          remove calliper-bolts, calliper\n",
        to: "          remove calliper, calliper-bolts\n",
        code: "LN602",
        at: "remove calliper, calliper-bolts",
        path: &["step 8"],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "        hold calliper \"with both hands, from below\" until undo is done\n        step \"Wipe the seat of the calliper.\" takes 3 min { confirm \"No dust is left on the seat.\" }\n",
        to: "        step wipe \"Wipe the seat of the calliper.\" takes 3 min { confirm \"No dust is left on the seat.\" }\n        hold calliper \"with both hands, from below\" until undo is done\n",
        code: "",
        at: "",
        path: &[],
    },
    Planted {
        file: "slew-lining-disc.lkn",
        from: "        fit calliper-bolts\n        apply thread-oil to calliper-bolts\n",
        to: "        apply thread-oil to calliper-bolts\n        renew calliper-bolts\n",
        code: "LN607",
        at: "tighten calliper-bolts",
        path: &["step 11"],
    },
];

#[test]
fn each_planted_fault_is_named_at_its_place() {
    let clean = files::library("procedures");
    let mut wrong = Vec::new();
    let mut codes = BTreeSet::new();
    let mut faults = 0;
    for planted in PLANTED {
        let mut library = clean.clone();
        let source = library.get_mut(planted.file).expect("the file is there");
        assert!(source.contains(planted.from), "{} lacks “{}”", planted.file, planted.from);
        *source = source.replace(planted.from, planted.to);
        let checked = check_in_memory(&library);
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        if planted.code.is_empty() {
            // A change that harms nothing must be called harmless.
            if checked.has_errors() {
                wrong.push(format!("no fault, but:\n{message}"));
            }
            continue;
        }
        faults += 1;
        codes.insert(planted.code);
        let found = checked.reports.iter().any(|report| {
            let at = report
                .labels
                .first()
                .map(|label| checked.sources.slice(label.span))
                .unwrap_or_default();
            let told = |words: &&str| report.path.iter().any(|point| point.text.contains(*words));
            report.code == planted.code && at.contains(planted.at) && planted.path.iter().all(told)
        });
        if !found {
            let what = format!(
                "{} in {}: “{}” → “{}”",
                planted.code, planted.file, planted.from, planted.to
            );
            wrong.push(format!("{what}\n{message}"));
        }
    }
    assert!(faults >= 40 && codes.len() >= 20, "{faults} faults of {} codes", codes.len());
    assert!(wrong.is_empty(), "{} of {faults}\n\n{}", wrong.len(), wrong.join("\n----\n"));
}

/// Each mend that is offered with its changes is made, and leaves the fault behind without another.
#[test]
fn each_offered_mend_proves() {
    let clean = files::library("procedures");
    let (mut faults, mut mended) = (0, 0);
    for planted in PLANTED.iter().filter(|planted| !planted.code.is_empty()) {
        let mut library = clean.clone();
        let source = library.get_mut(planted.file).expect("the file is there");
        *source = source.replace(planted.from, planted.to);
        let checked = check_in_memory(&library);
        for report in &checked.reports {
            faults += 1;
            for mend in report.mends.iter().filter(|mend| mend.can_be_applied()) {
                mended += 1;
                let again = check_in_memory(&applied(&library, &mend.edits, &checked.sources));
                let same =
                    |other: &&Report| (other.code, &other.title) == (report.code, &report.title);
                let before = checked.reports.iter().filter(same).count();
                let message = locknut_tests::run::message_of(&again.reports, &again.sources);
                assert!(
                    again.reports.iter().filter(same).count() < before,
                    "{}\n{message}",
                    mend.text
                );
                assert!(again.reports.len() < checked.reports.len(), "{}\n{message}", mend.text);
            }
        }
    }
    assert!(mended * 3 >= faults, "only {mended} of {faults} findings offer a change");
}

fn applied(
    library: &BTreeMap<String, String>,
    edits: &[Edit],
    sources: &Sources,
) -> BTreeMap<String, String> {
    let mut changed = library.clone();
    let mut last_first: Vec<&Edit> = edits.iter().collect();
    last_first.sort_by_key(|edit| std::cmp::Reverse((edit.span.start, edit.span.end)));
    for edit in last_first {
        if let Some(text) = changed.get_mut(sources.name(edit.span.file)) {
            text.replace_range(edit.span.range(), &edit.text);
        }
    }
    changed
}
