//! A sheet in another unit system decides as the source does, and its worked lines come out right.

#[cfg(test)]
mod units_on_sheets {
    use locknut_library::{check_in_memory, compose};
    use locknut_quantity::System;

    const LIBRARY: &str = r#"
        instrument pump-gauge  { measures gauge-pressure 0 .. 10 bar, resolution 0.1 bar, error 0.05 bar }
        instrument steel-rule  { measures length 0 .. 600 mm, resolution 0.5 mm, error 0.2 mm }
        instrument tone-meter  { measures frequency 10 .. 600 Hz, resolution 1 Hz, error 1 Hz }
        instrument belt-scale  { measures mass-per-length 1 .. 500 g/m, resolution 1 g/m, error 1 g/m }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure pressure using pump-gauge, expect 0 .. 9 bar gauge {
            at most 4 bar gauge           -> go on noting "Low."
            over 4 to 6 bar gauge         -> go on
            over 6 bar gauge              -> stop "Open the valve."
          }
          measure slack using steel-rule, expect 0 .. 20 mm {
            at most 5 mm   -> go on
            at least 5.5 mm -> stop "Fit a new belt."
          }
          measure span using steel-rule, expect 100 .. 300 mm
          measure tone using tone-meter, expect 100 .. 200 Hz
          measure weight using belt-scale, expect 100 .. 200 g/m
          check tension = belt-tension(weight, span, tone) {
            accept at most 500 N
            otherwise go on noting "Too tight."
          }
        }"#;

    fn said(system: Option<System>) -> String {
        let files = [("pump.lkn".to_owned(), LIBRARY.to_owned())];
        let checked = check_in_memory(&files.into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let compiled = checked.procedure("look-at-pump").unwrap_or_else(|| panic!("{message}"));
        locknut_sheet::text(&compose(&checked, compiled, "en", system).sheet).replace('\u{a0}', " ")
    }

    /// A figure in °C is taken as a difference there (LN221): on the sheet nobody may take it for a temperature.
    #[test]
    fn a_difference_of_temperatures_is_in_kelvin_however_it_is_written() {
        let source = r#"
        instrument probe { measures temperature -10 .. 120 °C, resolution 0.5 °C, error 0.5 °C }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure before using probe, expect 5 .. 35 °C
          measure after using probe, expect 5 .. 90 °C
          check warming = after - before {
            accept at most 47.5 °C
            otherwise stop "Let it cool."
          }
          when after - before over 20 °C {
            note "It rises by more than {20 °C difference}."
          }
        }"#;
        let checked = check_in_memory(&[("pump.lkn".to_owned(), source.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let compiled = checked.procedure("look-at-pump").unwrap_or_else(|| panic!("{message}"));
        let text = |system| {
            locknut_sheet::text(&compose(&checked, compiled, "en", system).sheet)
                .replace('\u{a0}', " ")
        };
        let (own, us) = (text(None), text(Some(System::Us)));
        assert!(own.contains("47.5 K") && own.contains("20 K"), "{own}");
        assert!(!own.contains("47.5 °C") && !own.contains("over 20 °C"), "{own}");
        // What is worked out stays as it is written, and says so; in a text 20 K are 36 °F: 20 × 9 ÷ 5.
        assert!(us.contains("47.5 K") && us.contains("not converted"), "{us}");
        assert!(us.contains("20 K (36 °F)"), "{us}");
    }

    /// 4 bar are 58.0151 psi, 6 bar 87.0226 psi: by division, 1 psi being 6894.757293 Pa (SP 811, B.8).
    #[test]
    fn arms_that_meet_share_one_figure() {
        let text = said(Some(System::Us));
        for part in ["At most 58.0 psi", "Over 58.0 up to 87.0 psi", "Over 87.0 psi"] {
            assert!(text.contains(part), "{part}\n{text}");
        }
    }

    #[test]
    fn arms_that_end_on_digits_are_not_converted() {
        let text = said(Some(System::Us));
        for part in ["At most 5.0 mm", "At least 5.5 mm", "Read this in mm"] {
            assert!(text.contains(part), "{part}\n{text}");
        }
        assert!(!said(Some(System::Si)).contains("Read this in"), "nothing to convert");
    }

    /// 0.15 kg/m, 0.2 m and 150 Hz make 540 N = 4 × 0.15 × 0.04 × 22 500, worked by hand.
    #[test]
    fn a_worked_line_carries_the_factors_of_what_is_read() {
        for system in [None, Some(System::Us)] {
            let text = said(system);
            let line = text.lines().find(|line| line.contains("tension =")).expect("a worked line");
            let rule = "4 × (weight ÷ 1000) × (span ÷ 1000) × (span ÷ 1000) × tone × tone";
            assert!(line.contains(rule), "{line}");
        }
    }

    /// Two sums that come to different results are told apart, and a result stands in the unit of its limit.
    #[test]
    fn folds_keep_their_brackets_and_results_their_unit() {
        let source = r#"
        instrument steel-rule { measures length 0 .. 600 mm, resolution 0.5 mm, error 0.2 mm }
        instrument inch-rule  { measures length 0 .. 20 inch, resolution 0.1 inch, error 0.02 inch }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure a using steel-rule, expect 100 .. 300 mm
          measure b using steel-rule, expect 100 .. 300 mm
          measure e using inch-rule, expect 2 .. 9 inch
          check one = min(a, b) - 50 mm   { accept at most 150 mm
            otherwise go on }
          check two = min(a, b - 50 mm)   { accept at most 150 mm
            otherwise go on }
          check three = 20 mm - abs(a - b) / 2 { accept at least 10 mm
            otherwise go on }
          check four = e - 3 mm { accept at most 100 mm
            otherwise go on }
        }"#;
        let checked = check_in_memory(&[("pump.lkn".to_owned(), source.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let compiled = checked.procedure("look-at-pump").unwrap_or_else(|| panic!("{message}"));
        let text = locknut_sheet::text(&compose(&checked, compiled, "en", Some(System::Us)).sheet);
        let text = text.replace('\u{a0}', " ");
        for line in [
            "one = (smallest a and b) − 50 mm",
            "two = smallest a and (b − 50 mm)",
            "three = 20 mm − |a − b| ÷ 2",
            "four: ________ mm   at most 100 mm",
        ] {
            assert!(text.contains(line), "{line}\n{text}");
        }
    }

    fn sheet_of(source: &str, system: Option<System>) -> String {
        let checked = check_in_memory(&[("pump.lkn".to_owned(), source.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let compiled = checked.procedure("look-at-pump").unwrap_or_else(|| panic!("{message}"));
        locknut_sheet::text(&compose(&checked, compiled, "en", system).sheet).replace('\u{a0}', " ")
    }

    /// The table of instruments speaks of another unit only where some line asks for it.
    #[test]
    fn an_instrument_that_is_read_in_its_own_unit_is_listed_in_it() {
        let source = |more: &str| {
            format!(
                r#"
        instrument calliper {{ measures length 0 .. 25 mm, resolution 0.01 mm, error 0.01 mm }}
        model pump {{ title "Garden pump" }}
        procedure look-at-pump on pump {{
          title "Look at the pump"
          measure a using calliper, expect 1.00 .. 9.00 mm
          measure b using calliper, expect 1.00 .. 9.00 mm
          check gap = a - b {{ accept at most 2.00 mm
            otherwise go on }}
          {more}
        }}"#
            )
        };
        let kept = sheet_of(&source(""), Some(System::Us));
        assert!(kept.contains("Read this in mm"), "{kept}");
        assert!(!kept.contains("on this sheet"), "{kept}");
        let both =
            sheet_of(&source("measure c using calliper, expect 1.00 .. 9.00 mm"), Some(System::Us));
        assert!(both.contains("on this sheet: inch, where the step says no other unit"), "{both}");
    }

    /// 9 °F are 5 K, so a difference of 5 K is told as 9 °F; 0 °C, being on both sides, drops out.
    #[test]
    fn what_an_instrument_applies_is_said_where_it_measures() {
        let text = sheet_of(
            r#"
instrument insulation-tester { measures resistance 0 .. 200 MΩ, resolution 0.1 MΩ, applies voltage 500 V, error 3 % of reading }
model motor { title "Motor" }
procedure look-at-pump on motor {
  title "Motor: insulation"
  measure insulation using insulation-tester, expect 0 .. 200 MΩ {
    accept at least 20 MΩ
    otherwise refer to "the electrician"
  }
}
"#,
            None,
        );
        let said = "The insulation tester applies 500 V to what it measures.";
        assert_eq!(text.matches(said).count(), 1, "{text}");
        assert!(text.contains("0 to 200 MΩ"), "{text}");
    }

    #[test]
    fn a_difference_of_temperatures_is_worked_plainly() {
        let source = r#"
        instrument probe { measures temperature 0 .. 120 °C, resolution 1 °C, error 1 °C }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure cold using probe, expect 10 .. 40 °C
          measure hot at left, right using probe, expect 10 .. 95 °C
          check warming = max(hot) - cold {
            accept at most 45 °F difference
            otherwise refer to "the workshop"
          }
        }"#;
        for system in [None, Some(System::Us), Some(System::Si)] {
            let text = sheet_of(source, system);
            assert!(text.contains("warming = (greatest hot − cold) × 1.8"), "{text}");
            assert!(!text.contains("273"), "{text}");
        }
    }

    /// Arms of one reading are told with as many digits, in whichever units each is written.
    #[test]
    fn arms_of_one_reading_share_their_digits() {
        let source = r#"
        instrument calliper { measures length 0 .. 100 mm, resolution 0.1 mm, error 0.05 mm }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure gap using calliper, expect 0 .. 80 mm {
            at most 25.4 mm   -> go on
            over 1 to 2 inch  -> go on noting "Look again."
            over 50.8 mm      -> refer to "the workshop"
          }
          measure play using calliper, expect 0 .. 80 mm {
            under 20 mm       -> go on
            20 .. 40.5 mm     -> go on noting "Look again."
            over 40.5 mm      -> refer to "the workshop"
          }
        }"#;
        let us = sheet_of(source, Some(System::Us));
        for part in ["At most 1.0000 inch", "Over 1.0000 up to 2.0000 inch", "Over 2.0000 inch"] {
            assert!(us.contains(part), "{part}\n{us}");
        }
        let own = sheet_of(source, None);
        for part in ["Under 20.0 mm", "20.0 to 40.5 mm", "Over 40.5 mm"] {
            assert!(own.contains(part), "{part}\n{own}");
        }
    }

    /// A condition stands in the unit of the box that it asks of: by a figure with a digit more than is read, so that each
    /// reading falls to the side to which its exact value falls. 4 mm are 0.157480 inch, 2.5 mm 0.0984252 inch (25.4 mm an inch).
    #[test]
    fn a_condition_stands_in_the_unit_of_its_box() {
        let source = r#"
        instrument calliper { measures length 0 .. 25 mm, resolution 0.01 mm, error 0.01 mm }
        model pump { title "Garden pump" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          measure gap using calliper, expect 1.00 .. 9.00 mm
          measure width at left, right using calliper, expect 1.00 .. 9.00 mm
          measure slit at left, right using calliper, expect 1.00 .. 9.00 mm
          when gap over 4.00 mm { note "One." }
          when gap at most 2.50 mm { note "Two." }
          when gap 2.50 .. 4.00 mm { note "Three." }
          when max(slit) under 2.50 mm { note "Four." }
          when slit at left at least 2.50 mm { note "Five." }
          when max(width) - min(width) under 0.50 mm { note "Six." }
          when width at left over 4.00 mm { note "Seven." }
        }"#;
        let checked = check_in_memory(&[("pump.lkn".to_owned(), source.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let compiled = checked.procedure("look-at-pump").unwrap_or_else(|| panic!("{message}"));
        let text = locknut_sheet::text(&compose(&checked, compiled, "en", Some(System::Us)).sheet);
        let text = text.replace('\u{a0}', " ");
        for line in [
            "gap: ________ inch",
            "gap over 0.15748 inch",
            "gap at most 0.09842 inch",
            "gap 0.09843 to 0.15748 inch",
            "greatest slit under 0.09843 inch",
            "slit (left) at least 0.09843 inch",
            // What is worked out is not converted, nor is what else is asked of its reading.
            "greatest width − smallest width under 0.50 mm",
            "width (left) over 4.00 mm",
        ] {
            assert!(text.contains(line), "{line}\n{text}");
        }
    }

    /// A text and a parts list agree with the box beside them. 60 °C are 140 °F, 15 K are 27 °F (told in K, as the reference says), 2 m 6.56 ft.
    #[test]
    fn figures_in_texts_and_sizes_agree_with_the_boxes() {
        let source = r#"
        instrument probe { measures temperature 0 .. 120 °C, resolution 1 °C, error 1 °C }
        instrument feeler { measures length 0.1 .. 3 mm, resolution 0.1 mm, error 0.02 mm }
        consumable washers { sizes 0.5 mm "W-05", 1.0 mm "W-10", 2.0 mm "W-20" }
        model pump { title "Garden pump"
          part foot }
        model tank { title "Tank" }
        procedure look-at-pump on pump {
          title "Look at the pump"
          step "It may warm by {15 °C difference}." {
            measure oil using probe, expect 0 .. 100 °C {
              at most 60 °C guarded -> go on
              over 60 °C            -> stop "Wait until it is under {60 °C}."
            }
          }
          measure gap using feeler, expect 0.5 .. 2.4 mm
          remove foot
          choose washer from washers
            so that rest is 0 .. 0.9 mm, where rest = gap - washer, prefer largest
          fit foot with washer
          note "It weighs {10 kg}."
        }
        procedure look-at-tank on tank {
          title "Look at the tank"
          measure oil using probe, expect 0 .. 100 °C {
            accept at most 60 °C
            otherwise stop "Wait until it is under {60 °C}, {2 m} away."
          }
        }"#;
        let checked = check_in_memory(&[("pump.lkn".to_owned(), source.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        let said = |name: &str| {
            let compiled = checked.procedure(name).unwrap_or_else(|| panic!("{message}"));
            let sheet = compose(&checked, compiled, "en", Some(System::Us)).sheet;
            locknut_sheet::text(&sheet).replace('\u{a0}', " ")
        };
        let pump = said("look-at-pump");
        for line in [
            "It may warm by 15 K (27 °F).",
            "Wait until it is under 60 °C (140 °F).",
            "1.0 to 1.9 mm | 1.0 mm (W-10)",
            "Washers | 0.5 mm (W-05), 1.0 mm (W-10), 2.0 mm (W-20)",
            // Nothing is read in its kind.
            "It weighs 10 kg (about 22 lb).",
        ] {
            assert!(pump.contains(line), "{line}\n{pump}");
        }
        // Where the box is converted, the text beside it is.
        let tank = said("look-at-tank");
        assert!(tank.contains("Wait until it is under 140 °F, 2 m (about 6.6 ft) away."), "{tank}");
    }

    /// 52 kg are 114.64 lb: nobody may hang up 115 lb, and whoever must hold them may not count on 114.
    #[test]
    fn a_figure_in_a_text_that_does_not_come_out_even_keeps_its_own() {
        let source = r#"
        model hoist { title "Hoist" }
        procedure look on hoist {
          title "Look"
          note "Hang up no more than {52 kg}, {25.4 mm} thick, below {40 °C}."
          confirm "nothing hangs"
        }"#;
        let us = sheet_of(&source.replace("look on", "look-at-pump on"), Some(System::Us));
        let line = "Hang up no more than 52 kg (about 115 lb), 1.000 inch thick, below 104 °F.";
        assert!(us.contains(line), "{us}");
        let own = sheet_of(&source.replace("look on", "look-at-pump on"), None);
        assert!(own.contains("no more than 52 kg, 25.4 mm thick, below 40 °C."), "{own}");
    }
}
