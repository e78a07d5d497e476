//! Choices against brute force: every reading, every stack, every preference; see `examples/choices.rs`.

#[path = "../examples/choices.rs"]
#[expect(dead_code, reason = "the example prints what is compared here")]
mod choices;

use choices::{Random, compared};
use locknut_library::{check_in_memory, compose};
use locknut_tests::files;

#[test]
fn every_choice_is_what_trying_every_stack_comes_to() {
    let mut random = Random(7);
    let (mut readings, mut fitting, mut nothing, mut never) = (0, 0, 0, 0);
    for _ in 0..150 {
        let one = compared(&mut random);
        never += usize::from(one["never"] == true);
        for row in one["rows"].as_array().expect("rows") {
            readings += 1;
            fitting += usize::from(row[1].is_array());
            nothing += usize::from(row[1].is_null());
        }
    }
    assert!(
        readings > 1_500 && fitting > 500 && nothing > 500 && never > 0,
        "{readings} {fitting} {nothing} {never}"
    );
}

/// What a fitter reads of a stack and of a table; read a changed snapshot aloud before you accept it.
#[test]
fn a_choice_is_looked_up_on_the_sheet() {
    let checked = check_in_memory(&files::library("examples"));
    for (name, language) in [("shim-wheel", "en"), ("set-guide", "en")] {
        let procedure = checked.procedures.iter().find(|one| one.name == name).expect("declared");
        let composed = compose(&checked, procedure, language, None);
        insta::with_settings!({ snapshot_path => "../sheets", prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("{name}.{language}"), locknut_sheet::text(&composed.sheet));
        });
    }
}
