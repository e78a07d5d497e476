//! Bolted joints against tests/reference: preload and torque of every row of the table, and the star orders.

#[cfg(test)]
mod joints {
    use locknut_graph::{Layout, Tightening};
    use locknut_library::check_in_memory;
    use locknut_meaning::tightenings;
    use locknut_proof::sums::Joint;
    use locknut_quantity::{Exact, parse_exact};
    use serde::Deserialize;
    use std::collections::{BTreeMap, BTreeSet};

    const TORQUE: &str = include_str!("../reference/torque.yaml");
    const ORDERS: &str = include_str!("../reference/orders.yaml");

    #[derive(Deserialize)]
    struct Torques {
        rows: Vec<Row>,
    }

    #[derive(Deserialize)]
    struct Row {
        thread: String,
        class: String,
        friction: String,
        preload: String,
        torque: String,
        printed_preload: Option<String>,
        printed_torque: Option<String>,
    }

    #[derive(Deserialize)]
    struct Orders {
        orders: Vec<Order>,
    }

    #[derive(Deserialize)]
    struct Order {
        bolts: usize,
        order: Vec<u16>,
    }

    fn number(text: &str) -> Exact {
        parse_exact(text).unwrap_or_else(|| panic!("{text} is no number"))
    }

    fn near(is: &Exact, wanted: &Exact, part: &str) -> bool {
        let off = if is > wanted { is - wanted } else { wanted - is };
        off <= wanted * number(part)
    }

    /// Half of the last digit of a printed figure.
    fn half_a_digit(printed: &str) -> Exact {
        let decimals = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
        number(&format!("0.5/1{}", "0".repeat(decimals)))
    }

    /// Within 1.2 %; of M4 within half of the last digit.
    fn as_printed(row: &Row, is: &Exact, printed: &str) -> bool {
        let wanted = number(printed);
        let off = if *is > wanted { is - &wanted } else { &wanted - is };
        near(is, &wanted, "0.012") || (row.thread == "M4" && off <= half_a_digit(printed))
    }

    /// The fasteners of a model with these lines, as the compiler knows them.
    fn declared(lines: &[String]) -> BTreeMap<String, Tightening> {
        let text =
            format!("model rig {{\n  title \"Test rig\"\n  part plate\n{}\n}}\n", lines.join("\n"));
        let checked = check_in_memory(&[("rig.lkn".to_owned(), text)].into());
        let all = tightenings(&checked.world).into_iter();
        all.map(|of| (of.thing.name.clone(), of)).collect()
    }

    fn name(row: &Row) -> String {
        format!("b-{}-{}", row.thread.replace('.', "-"), row.class.replace('.', "-"))
    }

    #[test]
    fn preload_and_torque_are_those_of_the_tables() {
        let table: Torques = serde_yaml::from_str(TORQUE).unwrap();
        assert_eq!(table.rows.len(), 261);
        let lines: BTreeSet<String> = table
            .rows
            .iter()
            .map(|row| {
                format!(
                    "  bolts {} : 4 of {} class {} oiled, tightened to 10 ± 1 N·m",
                    name(row),
                    row.thread,
                    row.class
                )
            })
            .collect();
        let sets = declared(&lines.into_iter().collect::<Vec<_>>());
        for row in &table.rows {
            let told = format!("{} {} at {}", row.thread, row.class, row.friction);
            let set = sets.get(&name(row)).unwrap_or_else(|| panic!("no {told}"));
            let (thread, head) = (set.thread.as_ref().unwrap(), set.head.as_ref().unwrap());
            let joint = Joint::of(thread, head);
            let friction = number(&row.friction);
            let stress = &set.strength.as_ref().unwrap().limit * number("0.9");
            let preload = joint.preload_at(&stress, &friction).unwrap();
            let torque = joint.torque(&preload, &friction);
            assert!(
                near(&preload.low(), &preload.high(), "0.000000001"),
                "{told}: bounds far apart"
            );
            let (kilonewtons, newton_metres) = (preload.high() / number("1000"), torque.high());
            assert!(near(&kilonewtons, &number(&row.preload), "0.0005"), "{told}: {kilonewtons}");
            assert!(near(&newton_metres, &number(&row.torque), "0.002"), "{told}: {newton_metres}");
            if let Some(printed) = &row.printed_preload {
                assert!(
                    as_printed(row, &kilonewtons, printed),
                    "{told}: {kilonewtons} kN, {printed}"
                );
            }
            if let Some(printed) = &row.printed_torque {
                assert!(
                    as_printed(row, &newton_metres, printed),
                    "{told}: {newton_metres} N·m, {printed}"
                );
            }
        }
    }

    #[test]
    fn a_preload_and_the_torque_that_brings_it_belong_together() {
        let sets = declared(&[
            "  bolts set : 4 of M10 class 8.8 oiled, tightened to 40 ± 2 N·m".to_owned()
        ]);
        let set = &sets["set"];
        let joint = Joint::of(set.thread.as_ref().unwrap(), set.head.as_ref().unwrap());
        for friction in ["0.04", "0.1", "0.24", "0.35"] {
            let friction = number(friction);
            let stress = number("500000000");
            let preload = joint.preload_at(&stress, &friction).unwrap();
            let back = joint.preload(&joint.torque(&preload, &friction).low(), &friction);
            // Bounds are rounded outward, far below anything that is measured.
            assert!(near(&back, &preload.low(), "0.0000000000000001"));
            let again = joint.stress(&back, &friction).unwrap();
            assert!(near(&again.high(), &stress, "0.000000001"), "{}", again.high());
        }
    }

    #[test]
    fn star_orders_are_the_usual_ones() {
        let table: Orders = serde_yaml::from_str(ORDERS).unwrap();
        assert_eq!(table.orders.len(), 9);
        for row in &table.orders {
            let line = format!(
                "  bolts set : {} of M10 class 8.8 dry, on pitch circle 100 mm, crosswise, tightened to 40 ± 2 N·m",
                row.bolts
            );
            let sets = declared(&[line]);
            let pattern = sets["set"].pattern.as_ref().unwrap();
            assert_eq!(pattern.layout, Layout::Circle);
            let order: Vec<u16> = pattern.order.iter().map(|at| at + 1).collect();
            assert_eq!(order, row.order, "{} bolts", row.bolts);
        }
    }

    const RIG: &str = "instrument bench-wrench { applies torque 5 .. 60 N·m, error 4 % of reading }
model rig {
  title \"Test rig\"
  part  plate
  bolts set : 4 of M8 class 8.8 dry, fastens plate, tightened to 22 ± 2 N·m
}
procedure again on rig {
  title \"Test rig: tighten\"
  slacken set
  tighten set using bench-wrench
}
";

    /// Against the same sum in floating point, by hand and outside of this house.
    #[test]
    fn a_sum_says_what_a_calculator_says() {
        let checked = check_in_memory(&[("rig.lkn".to_owned(), RIG.to_owned())].into());
        assert!(checked.reports.is_empty(), "{:?}", checked.reports);
        let sums = &checked.procedure("again").unwrap().facts.sums;
        assert_eq!(sums.len(), 1);
        let sum = &sums[0];
        let said: Vec<(&str, String)> =
            sum.worked.iter().map(|line| (line.symbol.as_str(), line.figure.said())).collect();
        let wanted = [
            ("d2", "7.188 mm"),
            ("dS", "6.827 mm"),
            ("As", "36.61 mm²"),
            ("DKm", "10.32 mm"),
            ("T′", "19.20 .. 24.96 N·m"),
            ("F", "11.2 kN"),
            ("σ", "382 MPa"),
            ("F", "16.6 kN"),
            ("σ", "527 MPa"),
            ("F", "7.87 kN"),
            ("Fp", "21.2 kN"),
        ];
        let wanted: Vec<(&str, String)> =
            wanted.into_iter().map(|(symbol, figure)| (symbol, figure.to_owned())).collect();
        assert_eq!(said, wanted);
        let judged: Vec<&str> = sum.judged.iter().map(|one| one.text.as_str()).collect();
        assert!(judged[1].ends_with("60 % of the yield stress 640 MPa"), "{judged:?}");
        assert!(judged[2].ends_with("83 % of the yield stress 640 MPa"), "{judged:?}");
        assert!(
            judged[3].contains("holds 37 % of the proof load, 30 % are asked for"),
            "{judged:?}"
        );
    }

    /// The sum of a tightening in several passes: each is judged, and preload and stress are those of the greatest.
    #[test]
    fn every_pass_is_judged_and_the_greatest_counts() {
        let sum = |figure: &str| {
            let rig = RIG.replace("22 ± 2 N·m", figure);
            assert_ne!(rig, RIG);
            let checked = check_in_memory(&[("rig.lkn".to_owned(), rig)].into());
            let sums = &checked.procedure("again").unwrap().facts.sums;
            let sum = sums.first().expect("a sum").clone();
            let figure = |symbol: &str| {
                let mut lines = sum.worked.iter().filter(|line| line.symbol == symbol);
                lines.next().map(|line| line.figure.said()).unwrap_or_default()
            };
            let fails = sum.judged.iter();
            let fails = fails.filter(|one| one.outcome == locknut_proof::sums::Outcome::Fails);
            let fails: Vec<String> =
                fails.map(|one| format!("{} {}", one.code.unwrap_or_default(), one.text)).collect();
            (figure("T′"), figure("F"), fails)
        };
        let (up, of_up, fails) = sum("22.0 ± 2.0 N·m, then to 31.0 ± 2.0 N·m");
        assert_eq!((up.as_str(), of_up.as_str()), ("27.84 .. 34.32 N·m", "15.7 kN"));
        assert_eq!(fails.len(), 1, "{fails:?}");
        assert!(fails[0].starts_with("LN611 31.0 ± 2.0 N·m: "), "{fails:?}");
        let (down, of_down, fails) = sum("31.0 ± 2.0 N·m, then to 22.0 ± 2.0 N·m");
        assert_eq!((&down, &of_down), (&up, &of_up));
        assert_eq!(fails.len(), 2, "{fails:?}");
        assert!(
            fails[0].starts_with("LN616 22.0 ± 2.0 N·m comes after 31.0 ± 2.0 N·m"),
            "{fails:?}"
        );
        assert!(fails[1].starts_with("LN611 31.0 ± 2.0 N·m: "), "{fails:?}");
        // Of each end the greatest: the first may bring 26 N·m, the second at least 21 N·m.
        let (both, _, _) = sum("21 ± 4 N·m, then to 22 ± 1 N·m");
        assert_eq!(both, "20.16 .. 26.00 N·m");
    }

    /// While the angle is turned the bolts are twisted, too. Reckoned apart, in binary numbers and for a thousand frictions
    /// between the ends, by the formulas of VDI 2230-1 (from public descriptions of it) and Hooke's law.
    #[test]
    fn an_angle_is_held_against_the_combined_stress() {
        // E as the standard library takes it, face and hole under the head of M8: 11.63 mm (ISO 4014, from memory), 9 mm (ISO 273).
        let (e, area, d2, ds, p) = (205e9, 36.609e-6, 7.188e-3, 6.827e-3, 1.25e-3);
        let under = f64::midpoint(11.63e-3, 9e-3);
        let mut warnings = 0;
        for (class, limit) in [("8.8", 640e6), ("10.9", 940e6), ("12.9", 1100e6)] {
            for (torque, angle) in [6.0, 12.0, 18.0]
                .into_iter()
                .flat_map(|torque| (10..=90).step_by(5).map(move |angle| (torque, angle)))
            {
                let set = format!(
                    "class {class} dry, fastens plate, friction 0.08 .. 0.16 per \"Test\", clamps 60 mm, tightened to {torque:.1} ± 0.5 N·m, then turned {angle}°"
                );
                let source =
                    RIG.replace("class 8.8 dry, fastens plate, tightened to 22 ± 2 N·m", &set);
                let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
                let procedure = checked.procedure("again").unwrap();
                let sum = procedure.facts.sums.first().expect("a sum");
                let worked = |symbol: &str| {
                    let line = sum.worked.iter().find(|line| line.symbol == symbol).unwrap();
                    line.figure.numbers[0].parse::<f64>().unwrap()
                };
                let turned = area * e * p / 0.06 * f64::from(angle) / 360.0;
                let arm = |friction: f64| 0.16 * p + 0.58 * d2 * friction + under * friction / 2.0;
                let by_torque = |friction: f64| (torque + 0.5) * 1.04 / arm(friction);
                let share = (0..=1000).map(|part| {
                    let friction = 0.08 + 0.08 * f64::from(part) / 1000.0;
                    let shear =
                        1.5 * d2 / ds * (p / (std::f64::consts::PI * d2) + 1.155 * friction);
                    (by_torque(friction) + turned) / area
                        * 3.0f64.mul_add(shear * shear, 1.0).sqrt()
                        / limit
                });
                let share = share.fold(0.0, f64::max);
                let told = worked("ε") / worked("εy");
                // Where the angle does nearly all, the most of each is taken, which is a little more.
                let most = if turned < 3.9 * by_torque(0.08) { 1.01 } else { 1.13 };
                assert!((0.99 * share..most * share).contains(&told), "{set}: {told} {share}");
                let warned = checked.reports.iter().any(|one| one.code == "LN614");
                assert!(warned || share < 1.0, "{set}: {share}");
                assert!(!warned || most * share > 1.0, "{set}: {share}");
                warnings += usize::from(warned);
            }
        }
        assert!((30..100).contains(&warnings), "{warnings} of 153: both kinds are tried");
    }

    /// Bolts that are stretched once are not held against their yield stress; whether they tear, nobody judged.
    #[test]
    fn that_an_angle_may_tear_bolts_that_are_used_once_is_not_judged() {
        let told = |clamps: &str, angle: u32| {
            let source = format!(
                "instrument wrench {{ applies torque 5 .. 60 N·m, error 4 % of reading }}\n\
                 model mill {{\n  title \"Mill\"\n  part arm\n  bolts set : 4 of M10 class 10.9 dry, \
                 fastens arm, single use{clamps}, tightened to 20 ± 2 N·m, then turned {angle}°\n}}\n\
                 procedure again on mill {{\n  title \"Again\"\n  remove set\n  renew set\n  \
                 tighten set using wrench\n}}\n"
            );
            let checked = check_in_memory(&[("mill.lkn".to_owned(), source)].into());
            assert!(checked.reports.is_empty(), "{:?}", checked.reports);
            checked.proved.iter().flat_map(|one| one.not_judged.clone()).collect::<Vec<_>>()
        };
        let tears = "whether the angle tears the set";
        assert_eq!(
            told(", clamps 12 mm", 300),
            [format!(
                "{tears}, which it stretches for good: how far they stretch before they break is not modelled"
            )]
        );
        assert_eq!(
            told("", 60),
            [format!("{tears}: nothing says which length they clamp (clamps 40 mm)")]
        );
        // 1.5 mm · 30/360 / 100 mm = 1.25 ‰ beside what 22 N·m bring: nothing is stretched for good.
        assert_eq!(told(", clamps 100 mm", 30), Vec::<String>::new());
    }

    /// What is declared and cannot be judged is told in the line of `check`, in the sums and among the assumptions.
    #[test]
    fn a_load_and_an_angle_that_cannot_be_judged_are_told() {
        let told = |set: &str, how: &str| {
            let source = RIG
                .replace(" class 8.8 dry, fastens plate, tightened to 22 ± 2 N·m", set)
                .replace("using bench-wrench", how);
            let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
            let errors: Vec<_> = checked.reports.iter().filter(|one| one.code != "LN107").collect();
            assert!(errors.is_empty(), "{errors:?}");
            let procedure = checked.procedure("again").unwrap();
            let assumed = locknut_proof::assumptions(&procedure.graph);
            let assumed = assumed.iter().filter(|one| one.what.starts_with("not judged: "));
            let open = procedure.facts.sums.iter().flat_map(|sum| &sum.judged);
            let open = open.filter(|one| one.outcome == locknut_proof::sums::Outcome::Open);
            assert!(open.count() >= assumed.clone().count());
            let line = checked.proved.iter().find(|one| one.name == "again").unwrap();
            assert_eq!(line.not_judged.len(), assumed.count());
            line.not_judged.clone()
        };
        let bench = "using bench-wrench";
        let load = "whether the joint of the set stays shut under its load: ";
        let angle = "whether the angle stretches the set for good: ";
        assert_eq!(
            told(" dry, fastens plate, carries 6 kN, tightened to 22 ± 2 N·m", bench),
            [format!("{load}no strength class that is made in this size declared")]
        );
        assert_eq!(
            told(" class 8.8 dry, fastens plate, carries 6 kN", "with one-hand"),
            [format!("{load}no torque with two ends declared")]
        );
        assert_eq!(
            told(
                " class 8.8 dry, fastens plate, carries 6 kN, tightened to 22 ± 2 N·m, then turned 90°",
                bench
            ),
            [
                format!("{load}how much of the angle goes into the parts is not modelled"),
                format!("{angle}nothing says which length they clamp (clamps 40 mm)")
            ]
        );
        let judged = " class 8.8 dry, fastens plate, carries 6 kN, tightened to 22 ± 2 N·m";
        assert!(told(judged, bench).is_empty());
    }

    /// What is declared is told as declared; a load is never told smaller than it is, and what bears never greater: Fp of M8 is
    /// 21.233 kN (36.609 square millimetres, 580 `MPa`), and 127.3 kN / 6 = 21.2167 kN.
    #[test]
    fn a_load_is_rounded_up_and_what_bears_down() {
        let source = RIG.replace(
            "4 of M8 class 8.8 dry, fastens plate",
            "6 of M8 class 8.8 dry, fastens plate, carries 127.3 kN shared evenly",
        );
        let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
        let procedure = checked.procedure("again").unwrap();
        let sum = procedure.facts.sums.first().expect("a sum");
        let given = sum.given.iter().find(|one| one.symbol == "FJ").map(|one| one.figure.said());
        assert_eq!(given.as_deref(), Some("127.3 kN"));
        let worked = |symbol: &str| {
            let line = sum.worked.iter().find(|line| line.symbol == symbol);
            line.map(|line| (line.numbers.clone(), line.figure.said())).unwrap_or_default()
        };
        assert_eq!(worked("FA"), ("127.3 kN / 6".to_owned(), "21.3 kN".to_owned()));
        assert_eq!(worked("Fp").1, "21.2 kN");
    }

    /// By hand: 12 kN/4 + 12 kN · 20 · 60/(4 · 60²) = 4 kN for those below; 12 kN/4 + 2 (12 kN · 0.05 m + 150 N·m)/(4 · 0.1 m) = 6.75 kN.
    #[test]
    fn what_the_worst_bears_of_a_whole_load_is_summed_and_what_that_assumes_is_told() {
        let told = |set: &str| {
            let source = RIG.replace("dry, fastens plate", set);
            let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
            assert!(checked.reports.is_empty(), "{:?}", checked.reports);
            let procedure = checked.procedure("again").unwrap();
            let worked = procedure.facts.sums.iter().flat_map(|sum| &sum.worked);
            let load = worked.filter(|line| line.symbol == "FA");
            let load = load.map(|line| (line.what.clone(), line.figure.said()));
            let load: Vec<(String, String)> = load.collect();
            let assumed = locknut_proof::assumptions(&procedure.graph);
            let assumed = assumed.iter().filter(|one| one.what.contains("kN")).count();
            (load, assumed)
        };
        let one = |what: &str, figure: &str| vec![(what.to_owned(), figure.to_owned())];
        assert_eq!(
            told("dry, fastens plate, carries 20 kN shared evenly"),
            (one("load along each of them", "5.00 kN"), 1)
        );
        assert_eq!(
            told(
                "dry, fastens plate, on rectangle 2 x 2 of 200 x 120 mm, carries 12 kN shared at 0 x 20 mm off the middle"
            ),
            (one("load along number 3 of them, which bears most", "4.00 kN"), 1)
        );
        assert_eq!(
            told(
                "dry, fastens plate, on pitch circle 200 mm, carries 12 kN shared at 50 mm off the middle, carries moment 150 N·m"
            ),
            (one("load along the one that bears most", "6.75 kN"), 1)
        );
        assert_eq!(told("dry, fastens plate, carries 6 kN"), (Vec::new(), 0));
    }

    /// A bolt group off both axes, from F = FJ/n + FJ ax x/Σx² + FJ ay y/Σy² (bolt groups in textbooks of machine design, such as
    /// Shigley; from memory): six at ±100 mm, 0 and ±60 mm have Σx² = 4 · 100² and Σy² = 6 · 60² square millimetres.
    #[test]
    fn the_line_of_a_bolt_group_shows_the_formula_and_what_comes_of_it() {
        let source = RIG.replace(
            "4 of M8 class 8.8 dry, fastens plate",
            "6 of M8 class 8.8 dry, fastens plate, on rectangle 3 x 2 of 200 x 120 mm, carries 12 kN shared at 30 x 20 mm off the middle",
        );
        let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
        let procedure = checked.procedure("again").expect("compiled");
        let worked = procedure.facts.sums.iter().flat_map(|sum| &sum.worked);
        let lines: Vec<_> = worked.filter(|line| line.symbol == "FA").collect();
        let [line] = lines.as_slice() else { panic!("{lines:?}") };
        let whole = |text: &str| number(text);
        let by_hand = whole("12") / whole("6")
            + whole("12") * whole("30") * whole("100") / (whole("4") * whole("10000"))
            + whole("12") * whole("20") * whole("60") / (whole("6") * whole("3600"));
        let said = line.figure.said();
        let figure = number(said.trim_end_matches(" kN"));
        // Three digits, never told smaller than it is.
        assert!(figure >= by_hand && figure - &by_hand <= number("0.01"), "{said}");
        assert_eq!(line.formula, "FJ/n + FJ ax x/Σx² + FJ ay y/Σy²");
        for part in
            ["12.0 kN / 6", "30.00 mm × 100.0 mm / 40000 mm²", "20.00 mm × 60.00 mm / 21600 mm²"]
        {
            assert!(line.numbers.contains(part), "{part}: {}", line.numbers);
        }
        assert!(!line.source.is_empty());
    }

    /// What a self-locking nut takes by itself comes off the torque: `F = (T − M)/(0.16 P + 0.58 d2 μ + DKm μ/2)` (VDI 2230-1, from
    /// public descriptions of it), of M8 with P = 1.25 mm, d2 = 7.188 mm (ISO 724, from memory), `DKm` = (11.63 + 9)/2 mm. As meant with 22 and 4 N·m
    /// at μ = 0.19, the least with 19.2 and 6 N·m at 0.24: the middle and the end of what the condition “dry” says.
    #[test]
    fn the_lines_of_a_self_locking_nut_take_its_own_torque_off() {
        let source = RIG.replace(
            "4 of M8 class 8.8 dry, fastens plate",
            "4 of M8 class 8.8 dry, fastens plate, prevailing 2 .. 6 N·m",
        );
        let source = source.replace("bolts", "nuts");
        let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
        let procedure = checked.procedure("again").expect("compiled");
        let sum = procedure.facts.sums.first().expect("a sum");
        let preload = |torque: &str, own: &str, friction: &str| {
            let arm = number("0.16") * number("1.25")
                + number("0.58") * number("7.188") * number(friction)
                + number("10.315") * number(friction) / number("2");
            (number(torque) - number(own)) / arm
        };
        for (what, by_hand) in
            [("as meant", preload("22", "4", "0.19")), ("least", preload("19.2", "6", "0.24"))]
        {
            let line =
                sum.worked.iter().find(|line| line.symbol == "F" && line.what.contains(what));
            let line = line.expect("a line");
            assert_eq!(line.formula, "(T − M) / (0.16 P + 0.58 d2 μ + DKm μ/2)", "{what}");
            let said = line.figure.said();
            assert!(
                near(&number(said.trim_end_matches(" kN")), &by_hand, "0.001"),
                "{what}: {said}"
            );
        }
    }

    #[test]
    fn every_tightening_of_the_demo_library_has_a_sum_with_its_sources() {
        let root = locknut_tests::files::root().join("procedures");
        let disk = locknut_library::Disk::open(&root).unwrap();
        let checked = locknut_library::check(
            &disk,
            locknut_library::Wanted::Outputs,
            &locknut_library::Memory::none(),
        )
        .unwrap();
        let mut sums = 0;
        for procedure in &checked.procedures {
            let acts = procedure.graph.flow.node_weights().filter_map(|node| node.act());
            let tightened: BTreeSet<_> = acts
                .filter(|act| act.tightening.as_ref().is_some_and(|of| of.torque().is_some()))
                .map(|act| act.line.span)
                .collect();
            let reckoned: BTreeSet<_> = procedure.facts.sums.iter().map(|sum| sum.span).collect();
            assert!(tightened.is_subset(&reckoned), "{}", procedure.name);
            for sum in &procedure.facts.sums {
                assert!(!sum.steps.is_empty() && !sum.judged.is_empty(), "{}", sum.what);
                assert!(sum.given.iter().all(|given| !given.source.is_empty()), "{}", sum.what);
                assert!(sum.worked.iter().all(|line| !line.source.is_empty()), "{}", sum.what);
            }
            sums += tightened.len();
        }
        assert!(sums >= 8, "only {sums} tightenings");
    }

    /// Friction under the head apart, and a self-locking nut: against figures reckoned by hand from the formulas at the head of
    /// `joint.rs` with σ² = (F/As)² + 3 [F/As · 3/2 · d2/dS · (P/(π d2) + 1.155 μ) + 3 M/(As dS)]².
    #[test]
    fn a_head_that_rubs_otherwise_and_a_nut_that_locks_itself_count() {
        let told = |set: &str| {
            let source = format!(
                "instrument wrench {{ applies torque 5 .. 80 N·m, error 4 % of reading }}
                 model rig {{
                   title \"Test rig\"
                   part plate
                   nuts set : 4 of M8 class 8.8 dry, fastens plate, {set}
                 }}
                 procedure again on rig {{
                   title \"Tighten\"
                   slacken set
                   tighten set using wrench
                 }}"
            );
            let checked = check_in_memory(&[("rig.lkn".to_owned(), source)].into());
            let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
            let sums =
                &checked.procedure("again").unwrap_or_else(|| panic!("{message}")).facts.sums;
            let sum = sums.first().expect("a sum");
            let worked = sum
                .worked
                .iter()
                .map(|one| format!("{} {}: {}", one.symbol, one.what, one.figure.said()));
            let judged = sum.judged.iter().map(|one| one.text.clone());
            worked.chain(judged).collect::<Vec<String>>().join("\n")
        };
        // By hand: of 24.96 N·m a nut of 1 N·m leaves 21.53 kN, 588 MPa, and √(588² + 3 (180 + 12)²) = 676 MPa; one of 4 N·m
        // leaves 18.83 kN, 514 MPa, and √(514² + 3 (158 + 48)²) = 626 MPa. One nut has one figure.
        let head = "friction 0.12 .. 0.15 per \"Works test 31\", friction under head 0.08 .. 0.16 per \"Works test 31\"";
        let text = told(&format!("{head}, prevailing 1 .. 4 N·m, tightened to 22 ± 2 N·m"));
        for wanted in [
            "F preload, as meant (middle of T): 14.1 kN",
            "σ combined stress, as meant: 474 MPa",
            "F preload, most (greatest T′): 21.6 kN",
            "σ combined stress, most: 676 MPa",
            "F preload, least (least T′): 9.20 kN",
        ] {
            assert!(text.contains(wanted), "{wanted}\n{text}");
        }
        // Where the head rubs much, the greatest friction of the thread is the worst for the bolt.
        let head = "friction 0.20 .. 0.40 per \"Works test 31\", friction under head 0.60 .. 0.61 per \"Works test 31\"";
        let text = told(&format!("{head}, tightened to 60 ± 1 N·m"));
        for wanted in [
            "F preload, most (greatest T′): 15.4 kN",
            "σ combined stress, most: 534 MPa",
            "friction that is worst for them): 12.8 kN",
            "σ combined stress, worst: 606 MPa",
            "at the greatest friction of the thread and the least under the head (0.4 in the thread",
        ] {
            assert!(text.contains(wanted), "{wanted}\n{text}");
        }
    }
}
