//! What acts need, as assertions.

use super::{library, model, told};
use crate::world::{Model, World};
use locknut_graph::{Assertion, Because, Condition};

const MACHINE: &str = r#"
model machine {
  state supply : live, isolated
  part  cover
  part  plate  : behind cover, single use
  part  disc   : behind plate
  part  set-screw : in plate, sealed because "it is set on the bed"
  bolts cover-bolts : 4 of M8, fastens cover
  bolts disc-bolts  : 4 of M8, fastens disc, single use
  lockwire wire : secures disc-bolts
  connector plug : dead when supply is isolated
  lock padlock : bars supply at isolated
}
"#;

fn needs(world: &World, model: &Model, verb: &str, thing: &str) -> Vec<Assertion> {
    let act = world.element_act(model, thing, verb).expect("the thing takes the act");
    world.needs_of(model, thing, act)
}

fn written(verb: &str, thing: &str) -> Vec<String> {
    let (world, model) = model(MACHINE);
    needs(&world, &model, verb, thing).into_iter().map(|assertion| assertion.written).collect()
}

#[test]
fn an_act_starts_from_the_values_of_its_element() {
    assert_eq!(
        written("tighten", "cover-bolts"),
        ["cover bolts are slack or snug", "cover is in place"]
    );
}

#[test]
fn what_stands_behind_needs_all_before_it_to_be_off() {
    assert_eq!(
        written("remove", "disc"),
        ["disc is in place", "disc bolts are out", "plate is removed", "cover is removed"]
    );
}

#[test]
fn a_fastener_stands_behind_whatever_its_part_stands_behind() {
    assert_eq!(
        written("slacken", "disc-bolts"),
        ["disc bolts are tight or snug", "wire is cut", "plate is removed", "cover is removed"]
    );
    assert_eq!(
        written("cut", "wire"),
        ["wire is in place", "plate is removed", "cover is removed"]
    );
}

#[test]
fn single_use_asks_for_a_new_one() {
    let (world, model) = model(MACHINE);
    let asked = |verb: &str, thing: &str| {
        let needs = needs(&world, &model, verb, thing);
        needs.into_iter().filter(|need| matches!(need.because, Because::SingleUse { .. })).count()
    };
    assert_eq!((asked("fit", "disc-bolts"), asked("renew", "disc-bolts")), (1, 0));
    assert_eq!((asked("fit", "plate"), asked("fit", "cover")), (1, 0));
}

#[test]
fn a_sealed_part_takes_no_act() {
    let (world, model) = model(MACHINE);
    let needs = needs(&world, &model, "remove", "set-screw");
    let sealed = &needs[0];
    assert_eq!(sealed.condition, Condition::Always(false));
    assert!(
        matches!(&sealed.because, Because::Sealed { because, .. } if because.written() == "it is set on the bed")
    );
}

#[test]
fn a_connector_must_be_dead() {
    let (world, model) = model(MACHINE);
    let needs = needs(&world, &model, "disconnect", "plug");
    let dead =
        needs.iter().find(|need| matches!(need.because, Because::Dead { .. })).expect("dead");
    assert_eq!(dead.written, "supply is isolated");
    assert_eq!(Some(&dead.condition), model.things["plug"].own_conditions.get("dead"));
}

#[test]
fn a_lock_goes_on_where_it_bars_and_holds_it_there() {
    let (world, model) = model(MACHINE);
    let on = needs(&world, &model, "lock", "padlock");
    assert_eq!(on[1].written, "supply is isolated");
    let supply = model.variable_named["supply"];
    let to_live = world.lock_assertions(&model, supply, 0);
    assert_eq!(to_live.len(), 1);
    assert_eq!(to_live[0].written, "padlock is not locked, or supply is not isolated");
    assert!(matches!(&to_live[0].because, Because::Lock { lock } if lock.name == "padlock"));
    assert!(world.lock_assertions(&model, supply, 1).is_empty());
}

/// A workshop declares its own element: its acts come with no change of the compiler.
#[test]
fn a_house_element_takes_its_own_acts() {
    let text = r#"
        /// A worm-drive clamp on a hose.
        element hose-clamp {
          states closed, loose, off
          attribute count, band
          mark paint marked
          relation clamps : hose, seen from it clamped-by
          act loosen : closed -> loose
          act take-off : closed or loose -> off
          act put-on : off -> loose needs each clamps is joined and not paint marked
          act close : loose -> closed takes figure needs each clamps is joined
        }
        model pump {
          state supply : on-line, shut
          hose suction : carries supply, dead when supply is shut
          hose-clamp clamp : 2, clamps suction, band 12 mm
          hose-clamp old-clamp : 1, clamps suction, paint marked, normally off
          never take-off clamp unless supply is shut because "it runs out"
        }"#;
    let (world, model) = model(text);
    let clamp = &model.things["clamp"];
    assert_eq!((clamp.count, clamp.element.as_str()), (Some(2), "hose-clamp"));
    assert_eq!(clamp.attributes[0].written, "12 mm");
    assert_eq!(model.things["suction"].relations["clamped-by"], ["clamp", "old-clamp"]);
    let asked: Vec<String> =
        needs(&world, &model, "put-on", "old-clamp").into_iter().map(|need| need.written).collect();
    assert_eq!(asked, ["old clamp is off", "suction is joined", "old clamp is paint marked"]);
    let act = world.element_act(&model, "clamp", "close").expect("declared by the library");
    assert!(act.takes.contains("figure"));
    assert_eq!(model.act_interlocks[0].verb, "take-off");
    assert!(world.element_act(&model, "clamp", "tighten").is_none());
}

#[test]
fn acts_that_a_thing_does_not_take_are_told_where_a_rule_names_them() {
    let (_, reports) = library("model m { part p\n never tighten p because \"r\" }");
    assert_eq!(reports.len(), 1, "{}", told(&reports));
    assert!(reports[0].labels[0].text.contains("not among the acts of part"), "{}", told(&reports));
}
