//! The standard library against tests/reference/*.yaml: units against their definitions and published
//! factors, threads against printed stress areas, strengths against printed loads, friction classes.

#[cfg(test)]
mod standard {
    use locknut_finding::Sources;
    use locknut_library::check_in_memory;
    use locknut_quantity::{Exact, Limit, Range, Rounding, Unit, Units, parse_exact};
    use serde::Deserialize;
    use serde::de::DeserializeOwned;
    use std::collections::{BTreeMap, BTreeSet};

    const UNITS: &str = include_str!("../reference/units.yaml");
    const CONVERSIONS: &str = include_str!("../reference/conversions.yaml");
    const THREADS: &str = include_str!("../reference/threads.yaml");
    const STRENGTHS: &str = include_str!("../reference/strengths.yaml");
    const FORMULAS: &str = include_str!("../reference/formulas.yaml");
    const FRICTION: &str = include_str!("../reference/friction.yaml");

    #[test]
    fn it_has_nothing_wrong_with_it() {
        let checked = check_in_memory(&BTreeMap::new());
        assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    }

    #[test]
    fn every_unit_is_what_its_definition_says_and_every_unit_is_defined() {
        let units = units();
        let table: Definitions = read(UNITS);
        for row in &table.units {
            let unit = unit(&units, &row.unit, &row.kind);
            let one =
                row.one.iter().fold(Exact::from_integer(1.into()), |one, part| one * number(part));
            assert_eq!(unit.factor, one, "{} of {}", row.unit, row.kind);
            assert_eq!(unit.zero, number(row.zero.as_deref().unwrap_or("0")), "{}", row.unit);
        }
        let defined: BTreeSet<(&str, &str)> =
            table.units.iter().map(|row| (row.unit.as_str(), row.kind.as_str())).collect();
        for unit in units.units().iter().filter(|unit| !unit.name.is_empty()) {
            let kind = units.kind(unit.kind).name.as_str();
            assert!(
                defined.contains(&(unit.name.as_str(), kind)),
                "{} of {kind} has no definition",
                unit.name
            );
        }
        assert_eq!(defined.len() + 1, units.units().len(), "a unit is declared or defined twice");
    }

    #[test]
    fn every_conversion_is_exact() {
        let units = units();
        let table: Conversions = read(CONVERSIONS);
        assert!(table.rows.len() >= 88);
        for row in &table.rows {
            let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
            let moved = to.number_of(&from.value_of(&number(&row.value)));
            assert_eq!(moved, number(&row.exact), "{} {} in {}", row.value, row.from, row.to);
            if let Some(printed) = &row.printed {
                let digits = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
                let step = number(&format!("1/1{}", "0".repeat(digits)));
                assert_eq!(
                    Rounding::Nearest.to_step(&moved, &step),
                    number(printed),
                    "{}",
                    row.from
                );
            }
        }
    }

    #[test]
    fn every_spelling_can_be_typed_and_means_one_unit_of_a_kind() {
        let units = units();
        for spelling in units.spellings() {
            let kinds: Vec<_> =
                units.spelled(spelling).iter().map(|unit| units.unit(*unit).kind).collect();
            let distinct: BTreeSet<_> = kinds.iter().collect();
            assert_eq!(kinds.len(), distinct.len(), "{spelling} means two units of one kind");
            let mut sources = Sources::default();
            let file = sources.add("unit.lkn", format!("value v = 5 {spelling}\n"));
            let (tree, found) = locknut_syntax::parse(file, sources.text(file));
            let told = found.sorted();
            assert!(told.is_empty(), "{spelling}: {told:?}");
            let written = format!("{tree:?}");
            assert!(
                written.contains(&format!("{spelling:?}")),
                "{spelling} is not read as a unit: {written}"
            );
        }
    }

    #[test]
    fn a_counterpart_is_of_the_same_kind_and_the_other_system() {
        let units = units();
        for unit in units.units() {
            let Some(other) = unit.counterpart else { continue };
            let other = units.unit(other);
            assert_eq!(unit.kind, other.kind, "{} and {}", unit.name, other.name);
            assert!(
                unit.system.is_some() && other.system.is_some() && unit.system != other.system,
                "{}",
                unit.name
            );
        }
    }

    #[test]
    fn every_factor_that_no_prefix_gives_says_where_it_comes_from() {
        let units = units();
        let si = "m mm cm km µm s ms min h d months years turns ° arcmin km/h m/min L/min L/h kg/h g/h m³/h r/s Wh kWh parts";
        let si: BTreeSet<&str> = si.split(' ').collect();
        for unit in units.units() {
            let ten = unit.factor.numer().to_string() + &unit.factor.denom().to_string();
            let prefix =
                ten.chars().all(|digit| digit == '0' || digit == '1') && unit.zero == number("0");
            assert!(
                prefix || si.contains(unit.name.as_str()) || unit.source.is_some(),
                "{}",
                unit.name
            );
        }
    }

    #[test]
    fn threads_have_the_stress_areas_that_tables_print() {
        let figures = figures();
        let table: Threads = read(THREADS);
        assert_eq!((table.metric.len(), table.unified.len()), (67, 28));
        let mm = number("0.001");
        for row in &table.metric {
            let thread = &figures[&("thread".to_owned(), row.thread.clone())];
            let (d, p) = (one(&thread["diameter"]) / &mm, one(&thread["pitch"]) / &mm);
            assert_eq!((&d, &p), (&number(&row.diameter), &number(&row.pitch)), "{}", row.thread);
            let area = circle(&(d - number("0.938194") * p));
            assert!(near(&area, &number(&row.area_mm2), "0.004"), "{}", row.thread);
        }
        let inch = number("0.0254");
        for row in &table.unified {
            let thread = &figures[&("thread".to_owned(), row.thread.clone())];
            let (d, n) = (one(&thread["diameter"]) / &inch, one(&thread["threads-per-inch"]));
            assert_eq!(
                (&d, &n),
                (&number(&row.diameter), &number(&row.per_inch)),
                "{}",
                row.thread
            );
            let area = circle(&(d - number("0.9743") / n));
            assert!(near(&area, &number(&row.area_in2), "0.004"), "{}", row.thread);
        }
        let threads = figures.keys().filter(|(keyword, _)| keyword == "thread").count();
        assert_eq!(threads, 95, "a thread has no row in the table");
    }

    #[test]
    fn strengths_are_those_of_the_standards() {
        let figures = figures();
        let table: Strengths = read(STRENGTHS);
        let units = units();
        let classes =
            table.classes.iter().map(|row| (&row.name, &row.sizes_mm, "0.001", &row.figures));
        let grades =
            table.grades.iter().map(|row| (&row.name, &row.sizes_inch, "0.0254", &row.figures));
        for (name, sizes, length, row) in classes.chain(grades) {
            let strength = &figures[&("strength".to_owned(), name.clone())];
            let unit = unit(&units, &row.unit, "pressure-difference");
            let suffix = if row.above { "-above" } else { "" };
            for (figure, wanted) in
                [("proof", &row.proof), ("yield", &row.r#yield), ("tensile", &row.tensile)]
            {
                let is = unit.number_of(&one(&strength[&format!("{figure}{suffix}")]));
                assert_eq!(is, number(wanted), "{name} {figure}{suffix}");
            }
            let [from, to] = sizes;
            let size = |text: &str| number(text) * number(length);
            if row.above {
                assert_eq!(one(&strength["above"]), size(from), "{name}");
                assert_eq!(strength["sizes"].upper.as_ref().unwrap().value, size(to), "{name}");
            } else {
                assert_eq!(strength["sizes"].lower.as_ref().unwrap().value, size(from), "{name}");
                assert!(
                    strength.get("above").is_some() || strength["sizes"].contains(&size(to)),
                    "{name}"
                );
            }
        }
    }

    #[test]
    fn proof_and_tensile_loads_come_out_as_printed() {
        let figures = figures();
        let (threads, table): (Threads, Strengths) = (read(THREADS), read(STRENGTHS));
        let loads = table.proof_loads.iter().map(|load| ("proof", load));
        let all: Vec<_> =
            loads.chain(table.tensile_loads.iter().map(|load| ("tensile", load))).collect();
        assert!(all.len() >= 58, "only {} loads", all.len());
        for (figure, load) in all {
            let row = threads.metric.iter().find(|row| row.thread == load.thread).unwrap();
            let strength = &figures[&("strength".to_owned(), load.class.clone())];
            let large = strength
                .get("above")
                .is_some_and(|above| number(&row.diameter) * number("0.001") > one(above));
            let stress = one(&strength[&format!("{figure}{}", if large { "-above" } else { "" })]);
            let newtons = stress * number(&row.area_mm2) * number("0.000001");
            assert!(
                near(&newtons, &number(&load.newtons), "0.0051"),
                "{} {}",
                load.thread,
                load.class
            );
        }
    }

    #[test]
    fn friction_lies_in_a_class_of_the_guideline() {
        let figures = figures();
        let table: Friction = read(FRICTION);
        let class = |name: &str| {
            let row = table.classes.iter().find(|row| row.class == name).unwrap();
            let [Some(from), Some(to)] = &row.friction else {
                panic!("class {name} has no two ends")
            };
            Range::closed(number(from), number(to))
        };
        for (condition, named) in [
            ("dry", "C"),
            ("dry-galvanised", "D"),
            ("oiled", "B"),
            ("moly-greased", "A"),
            ("thread-locked", "C"),
        ] {
            let friction = &figures[&("condition".to_owned(), condition.to_owned())]["friction"];
            assert_eq!(*friction, class(named), "{condition}");
        }
    }

    #[test]
    fn formulas_come_out_as_worked_examples_do() {
        let Formulas { examples, thermocouple, thermocouples } = read(FORMULAS);
        for WorkedExample { id, call, is, unit: name } in examples {
            let text = format!("value result = {call}\n");
            let checked = check_in_memory(&BTreeMap::from([("a.lkn".to_owned(), text)]));
            assert!(checked.reports.is_empty(), "{id}: {:?}", checked.reports);
            let limit = &checked.world.limits.get("result").expect("declared").limit;
            let kind = checked.world.units.kind(limit.kind).name.clone();
            let printed = number(&is) * &unit(&checked.world.units, &name, &kind).factor;
            assert!(near(&one(&limit.range), &printed, "0.000001"), "{id}: {}", one(&limit.range));
        }
        for WorkedExample { id, call, is, unit: name } in thermocouples {
            let text = format!("{thermocouple}\nvalue result = {call}\n");
            let checked = check_in_memory(&BTreeMap::from([("a.lkn".to_owned(), text)]));
            assert!(checked.reports.is_empty(), "{id}: {:?}", checked.reports);
            let limit = &checked.world.limits.get("result").expect("declared").limit;
            let volt = unit(&checked.world.units, &name, "voltage");
            let off = volt.number_of(&one(&limit.range)) - number(&is);
            let half = number("0.0005");
            assert!(off <= half && -&half <= off, "{id}: {}", one(&limit.range));
        }
    }

    fn units() -> Units {
        check_in_memory(&BTreeMap::new()).world.units
    }

    /// Keyword and name, then the named figures.
    fn figures() -> BTreeMap<(String, String), BTreeMap<String, Range>> {
        let ranges = |values: &BTreeMap<String, Limit>| {
            values.iter().map(|(name, limit)| (name.clone(), limit.range.clone())).collect()
        };
        let world = check_in_memory(&BTreeMap::new()).world;
        let keywords = ["thread", "head", "strength", "condition", "effort"].into_iter();
        let figures = keywords.flat_map(|keyword| {
            let named = world.figures_of(keyword).into_iter();
            named.map(move |(name, figure)| ((keyword.to_owned(), name.to_owned()), figure))
        });
        figures.map(|(key, figure)| (key, ranges(&figure.values))).collect()
    }

    fn unit<'u>(units: &'u Units, name: &str, kind: &str) -> &'u Unit {
        let kind = units.kind_named(kind).unwrap_or_else(|| panic!("no kind {kind}"));
        let found = units.spelled(name).iter().find(|unit| units.unit(**unit).kind == kind);
        units.unit(*found.unwrap_or_else(|| panic!("no unit {name}")))
    }

    fn one(range: &Range) -> Exact {
        range.single().expect("one figure").clone()
    }

    /// The area of a circle; π to more digits than any table has.
    fn circle(diameter: &Exact) -> Exact {
        diameter * diameter * number("3.14159265358979") / number("4")
    }

    fn near(is: &Exact, printed: &Exact, part: &str) -> bool {
        let off = is - printed;
        let most = printed * number(part);
        off <= most && off >= -most
    }

    fn number(text: &str) -> Exact {
        parse_exact(text).unwrap_or_else(|| panic!("{text} is no number"))
    }

    fn read<T: DeserializeOwned>(text: &str) -> T {
        serde_yaml::from_str(text).expect("a table of tests/reference")
    }

    #[derive(Deserialize)]
    struct Formulas {
        examples: Vec<WorkedExample>,
        thermocouple: String,
        thermocouples: Vec<WorkedExample>,
    }

    #[derive(Deserialize)]
    struct WorkedExample {
        id: String,
        call: String,
        is: String,
        unit: String,
    }

    #[derive(Deserialize)]
    struct Definitions {
        units: Vec<Definition>,
    }

    #[derive(Deserialize)]
    struct Definition {
        unit: String,
        kind: String,
        one: Vec<String>,
        zero: Option<String>,
    }

    #[derive(Deserialize)]
    struct Conversions {
        rows: Vec<Conversion>,
    }

    #[derive(Deserialize)]
    struct Conversion {
        kind: String,
        value: String,
        from: String,
        to: String,
        exact: String,
        printed: Option<String>,
    }

    #[derive(Deserialize)]
    struct Threads {
        metric: Vec<Metric>,
        unified: Vec<Unified>,
    }

    #[derive(Deserialize)]
    struct Metric {
        thread: String,
        diameter: String,
        pitch: String,
        area_mm2: String,
    }

    #[derive(Deserialize)]
    struct Unified {
        thread: String,
        diameter: String,
        per_inch: String,
        area_in2: String,
    }

    #[derive(Deserialize)]
    struct Strengths {
        classes: Vec<Class>,
        grades: Vec<Grade>,
        proof_loads: Vec<Load>,
        tensile_loads: Vec<Load>,
    }

    #[derive(Deserialize)]
    struct Class {
        #[serde(rename = "class")]
        name: String,
        sizes_mm: [String; 2],
        #[serde(flatten)]
        figures: Stresses,
    }

    #[derive(Deserialize)]
    struct Grade {
        #[serde(rename = "grade")]
        name: String,
        sizes_inch: [String; 2],
        #[serde(flatten)]
        figures: Stresses,
    }

    #[derive(Deserialize)]
    struct Stresses {
        above: bool,
        proof: String,
        r#yield: String,
        tensile: String,
        unit: String,
    }

    #[derive(Deserialize)]
    struct Load {
        thread: String,
        class: String,
        newtons: String,
    }

    #[derive(Deserialize)]
    struct Friction {
        classes: Vec<FrictionClass>,
    }

    #[derive(Deserialize)]
    struct FrictionClass {
        class: String,
        friction: [Option<String>; 2],
    }
}
