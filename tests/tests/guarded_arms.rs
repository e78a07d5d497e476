//! Guarded arms at every reading: the compiler's ranges in the document, and the terminal, against what is reckoned here
//! of each reading in whole hundredths, from the true values that it may have.

#[cfg(test)]
mod guarded_arms {
    use locknut_graph::Way;
    use locknut_job::{Answer, Job};
    use locknut_library::{Checked, check_in_memory, compose};
    use locknut_quantity::{Exact, parse_exact};
    use locknut_tests::run::message_of;
    use std::collections::BTreeSet;

    /// Arms by what parts them, ascending: at each edge its figure in hundredths, and whether the arm below holds it.
    struct Subject {
        edges: Vec<(i64, bool)>,
        /// Which arms are guarded, ascending.
        guarded: Vec<bool>,
        /// In which order they are written.
        order: Vec<usize>,
        /// In hundredths, and in percent of the reading.
        error: (i64, i64),
    }

    const LAST: i64 = 400;

    impl Subject {
        fn source(&self) -> String {
            let arms: String = self.order.iter().map(|at| self.arm(*at)).collect();
            let (fixed, percent) = self.error;
            let fixed = hundredths(fixed);
            format!(
                "instrument gauge {{ measures length 0 .. 4 mm, resolution 0.01 mm, error {fixed} mm plus {percent} % of reading }}\n\
                 model hub {{ title \"Hub\" }}\n\
                 procedure sort on hub {{\n  title \"Sort\"\n  measure play using gauge {{\n{arms}  }}\n}}\n"
            )
        }

        fn arm(&self, at: usize) -> String {
            let below = at.checked_sub(1).and_then(|at| self.edges.get(at));
            let limit = match (below, self.edges.get(at)) {
                (None, Some((edge, true))) => format!("at most {} mm", hundredths(*edge)),
                (None, Some((edge, false))) => format!("under {} mm", hundredths(*edge)),
                (Some((edge, true)), None) => format!("over {} mm", hundredths(*edge)),
                (Some((edge, false)), None) => format!("at least {} mm", hundredths(*edge)),
                // What is closed at both ends holds both edges.
                (Some((from, false)), Some((to, true))) => {
                    format!("{} .. {} mm", hundredths(*from), hundredths(*to))
                }
                (Some((from, _)), Some((to, _))) => {
                    format!("over {} to {} mm", hundredths(*from), hundredths(*to))
                }
                (None, None) => "at least 0 mm".to_owned(),
            };
            let guarded = if self.guarded.get(at) == Some(&true) { " guarded" } else { "" };
            format!("    {limit}{guarded} -> go on noting \"{at}\"\n")
        }

        /// The position in which an arm is written.
        fn stands(&self, at: usize) -> usize {
            self.order.iter().position(|one| *one == at).expect("it is written")
        }

        /// The arm that a reading takes: over each edge that it is not kept below of.
        fn expected(&self, reading: i64) -> usize {
            let (fixed, percent) = self.error;
            // The greatest error of this reading, in hundredths of a hundredth.
            let away = 100 * fixed + percent * reading;
            let (least, most) = (100 * reading - away, 100 * reading + away);
            let over = |(at, (edge, held)): (usize, &(i64, bool))| {
                let (low, high) = (self.guarded.get(at), self.guarded.get(at + 1));
                let lower_sure = low == Some(&true)
                    && (high != Some(&true) || self.stands(at) < self.stands(at + 1));
                let upper_sure = high == Some(&true) && !lower_sure;
                let above = |value: i64| value > 100 * edge || (value == 100 * edge && !held);
                let surely_above = above(least);
                if lower_sure {
                    above(most)
                } else if upper_sure {
                    surely_above
                } else {
                    above(100 * reading)
                }
            };
            self.edges.iter().enumerate().filter(|edge| over(*edge)).count()
        }
    }

    #[test]
    fn each_reading_takes_the_arm_that_its_true_values_allow() {
        let (mut random, mut moved) = (Random(23), 0);
        for _ in 0..60 {
            let subject = subject(&mut random);
            let checked = compiled(&subject.source());
            let compiled = checked.procedure("sort").expect("it compiles");
            let document =
                locknut_data::graph_json(&compiled.graph, &compiled.facts, &checked.world.units);
            let ranges = arms_of(&document.expect("JSON"));
            assert_eq!(ranges.len(), subject.order.len());
            for reading in 0..=LAST {
                let expected = subject.expected(reading);
                let stands = subject.stands(expected);
                let text = hundredths(reading);
                let told = |what: &str| {
                    format!("{what}: {text} mm is arm {expected}\n{}", subject.source())
                };
                let mut job = Job::new(&compiled.graph, &checked.world.units, "source");
                let way =
                    job.answer(&Answer::Typed(vec![text.clone()]), "now").expect("a verdict").way;
                assert_eq!(
                    way,
                    Way::Arm(u16::try_from(stands).expect("few")),
                    "{}",
                    told("terminal")
                );
                let value = Exact::new(reading.into(), 100_000.into());
                let hold: Vec<usize> = (0..ranges.len())
                    .filter(|at| ranges.get(*at).is_some_and(|one| one.holds(&value)))
                    .collect();
                assert_eq!(hold, [stands], "{}", told("document"));
                let plain = subject
                    .edges
                    .iter()
                    .filter(|(edge, held)| reading > *edge || (reading == *edge && !held));
                moved += usize::from(plain.count() != expected);
            }
        }
        assert!(moved > 500, "{moved} readings were moved: too few to have seen anything");
    }

    /// The sheet tells what is read, and what the author's limits are.
    #[test]
    fn the_sheet_and_the_sums_tell_the_figures_that_decide() {
        let checked = compiled(
            r#"
            instrument gauge { measures length 0 .. 4 mm, resolution 0.02 mm, error 0.03 mm }
            model hub { title "Hub" }
            procedure sort on hub {
              title "Sort"
              step "Measure." {
                measure play using gauge, expect 0 .. 3 mm {
                  at most 1 mm guarded   -> go on
                  over 1 to 2 mm guarded -> go on noting "Soon."
                  over 2 mm              -> stop "Lay it aside."
                }
                measure rim at left, right using gauge, expect 0 .. 3 mm
                check lean = mean(rim) {
                  under 1.00 mm             -> go on
                  at least 1.00 mm guarded  -> go on noting "Lean."
                }
              }
            }"#,
        );
        let compiled = checked.procedure("sort").expect("it compiles");
        let sheet = locknut_sheet::text(&compose(&checked, compiled, "en", None).sheet);
        let sheet = sheet.replace('\u{a0}', " ");
        // 1.00 − 0.03 is 0.97, and the gauge shows 0.96; 2.00 − 0.03 is 1.97, and it shows 1.96.
        for said in [
            "At most 0.96 mm",
            "Over 0.96 up to 1.96 mm",
            "Over 1.96 mm",
            "at most 1 mm; over 1 up to 2 mm; over 2 mm",
            "At least 1.030 mm",
            "Under 1.030 mm",
        ] {
            assert!(sheet.contains(said), "{said}: {sheet}");
        }
        let worked: BTreeSet<&str> = compiled
            .facts
            .sums
            .iter()
            .flat_map(|sum| &sum.worked)
            .map(|worked| worked.what.as_str())
            .collect();
        assert!(worked.contains("readings surely take “at most 1 mm” up to here"), "{worked:?}");
    }

    /// One arm of the document.
    struct Covers {
        lower: Option<(Exact, bool)>,
        upper: Option<(Exact, bool)>,
    }

    impl Covers {
        fn holds(&self, value: &Exact) -> bool {
            let above = |(end, closed): &(Exact, bool)| value > end || (*closed && value == end);
            let below = |(end, closed): &(Exact, bool)| value < end || (*closed && value == end);
            self.lower.as_ref().is_none_or(above) && self.upper.as_ref().is_none_or(below)
        }
    }

    fn arms_of(document: &str) -> Vec<Covers> {
        let document: serde_json::Value = serde_json::from_str(document).expect("JSON");
        let mut found = Vec::new();
        let mut left = vec![&document];
        while let Some(value) = left.pop() {
            if let Some(arms) = value.get("arms").and_then(|arms| arms.as_array()) {
                let end = |arm: &serde_json::Value, side: &str| {
                    let end = arm.get("range")?.get(side)?;
                    let value = fraction(end.get("value")?.as_str()?);
                    Some((value, end.get("closed")?.as_bool()?))
                };
                let covers = |arm| Covers { lower: end(arm, "lower"), upper: end(arm, "upper") };
                found.extend(arms.iter().map(covers));
            }
            left.extend(value.as_array().into_iter().flatten());
            left.extend(value.as_object().into_iter().flat_map(serde_json::Map::values));
        }
        found
    }

    fn fraction(text: &str) -> Exact {
        let mut parts = text.split('/').map(|part| parse_exact(part).expect("a number"));
        let above = parts.next().expect("a numerator");
        parts.next().map_or_else(|| above.clone(), |below| &above / below)
    }

    fn compiled(source: &str) -> Checked {
        let checked = check_in_memory(&[("one.lkn".to_owned(), source.to_owned())].into());
        let message = message_of(&checked.reports, &checked.sources);
        assert!(!checked.has_errors(), "{source}\n{message}");
        checked
    }

    fn hundredths(value: i64) -> String {
        format!("{}.{:02}", value / 100, value % 100)
    }

    fn subject(random: &mut Random) -> Subject {
        let arms = 2 + usize::try_from(random.below(3)).expect("small");
        let edges = (1..arms)
            .map(|at| {
                let about = 100 * i64::try_from(at).expect("small") - 20;
                (about + random.below(30), at > 1 || random.below(2) == 0)
            })
            .collect();
        let mut order: Vec<usize> = (0..arms).collect();
        for at in 0..arms {
            let other = usize::try_from(random.below(i64::try_from(arms).expect("small")));
            order.swap(at, other.expect("small"));
        }
        Subject {
            edges,
            guarded: (0..arms).map(|_| random.below(3) > 0).collect(),
            order,
            error: (1 + random.below(9), random.below(4)),
        }
    }

    /// Numbers that look random and are the same each time (Knuth, *The Art of Computer Programming* 2, 3.3.4,
    /// table 1; from memory).
    struct Random(u64);

    impl Random {
        fn below(&mut self, bound: i64) -> i64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            i64::try_from(self.0 >> 33).unwrap_or(0) % bound.max(1)
        }
    }
}
