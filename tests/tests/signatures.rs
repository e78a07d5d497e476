//! One name does not stand for two people.

use locknut_job::{Answer, Job, Refused};
use locknut_tests::mended::checked;

const PRESS: &str = r#"model press {
  title "Press"
  part lid
}
procedure look on press {
  title "Look"
  crew fitter, lead
  step work "Open it." by fitter {
    remove lid
    fit lid
  }
  sign "The lid sits." by fitter
  sign "The lid sits tight." by lead independent of work
  sign "The key is back." by fitter
}
"#;

fn typed(text: &str) -> Answer {
    Answer::Typed(vec![text.to_owned()])
}

#[test]
fn a_name_that_signed_in_one_role_does_not_sign_in_another() {
    let checked = checked(PRESS);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let graph = &checked.procedures.first().expect("a procedure").graph;
    let mut job = Job::new(graph, &checked.world.units, "source");
    for _ in 0..2 {
        job.answer(&Answer::Done, "now").expect("it is done");
    }
    job.answer(&typed("R. Brand"), "now").expect("the fitter signs");
    let refused = job.answer(&typed("  r.  brand"), "now");
    assert!(
        matches!(&refused, Err(Refused::SignedAs { role, wanted, .. }) if role == "fitter" && wanted == "lead"),
        "{refused:?}"
    );
    job.answer(&typed("A. Holm"), "now").expect("somebody else signs");
    // Neither does whoever looked sign for the work; the fitter may sign again.
    assert!(matches!(job.answer(&typed("A. Holm"), "now"), Err(Refused::SignedAs { .. })));
    job.answer(&typed("R. Brand"), "now").expect("the fitter signs again");
    // The check program takes the roles from the document.
    let document = locknut_data::graph_json(
        graph,
        &checked.procedures.first().expect("a procedure").facts,
        &checked.world.units,
    );
    let roles = document.expect("a document").matches("\"signed_as\"").count();
    assert_eq!(roles, 3);
}

#[test]
fn a_signature_apart_from_several_steps_is_one_too() {
    let several = PRESS.replace(
        "step work ",
        "step look \"Look.\" by fitter { confirm \"It is dry.\" }\n  step work ",
    );
    let several = several.replace("independent of work", "independent of look, work");
    let checked = checked(&several);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let graph = &checked.procedures.first().expect("a procedure").graph;
    let mut job = Job::new(graph, &checked.world.units, "source");
    for _ in 0..3 {
        job.answer(&Answer::Done, "now").expect("it is done");
    }
    job.answer(&typed("R. Brand"), "now").expect("the fitter signs");
    let refused = job.answer(&typed("R. Brand"), "now");
    assert!(matches!(refused, Err(Refused::SignedAs { .. })), "{refused:?}");
}
