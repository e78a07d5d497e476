//! The promises of the map.

#[test]
fn no_crate_knows_more_than_it_promised() {
    let broken = locknut_tests::house::broken_promises().expect("cargo can be asked");
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn a_code_finds_its_folder_or_asks_for_it() {
    let home = |code, wanted| locknut_tests::house::home_of(code, wanted);
    assert_eq!(home("LN519", None).as_deref(), Ok("compiler/proof/src/states"));
    assert_eq!(home("LN439", None).as_deref(), Ok("compiler/meaning/src/findings/flow"));
    let asked = home("LN405", None).expect_err("codes of two crates");
    assert!(
        asked.contains("proof/src/flow") && asked.contains("meaning/src/findings/flow"),
        "{asked}"
    );
    assert_eq!(home("LN405", Some("proof/src/flow")).as_deref(), Ok("compiler/proof/src/flow"));
    assert!(home("LN8", None).is_err() && home("LN888", None).is_err());
}

#[test]
fn a_code_that_is_taken_or_stands_in_another_crate_is_refused() {
    let refused = |code, wanted| locknut_tests::house::home_of(code, wanted).expect_err(code);
    let taken = refused("LN514", None);
    assert!(taken.starts_with("LN514 is taken: compiler/proof/src/states/ln514_"), "{taken}");
    assert!(
        refused("LN405", Some("proof/src/states")).contains("do not stand in proof/src/states")
    );
    // LN61x is of the proof, LN65x of the meaning.
    let other = refused("LN619", Some("meaning/src/findings/hardware"));
    assert!(other.contains("they stand in compiler/proof/src/hardware"), "{other}");
    assert!(refused("LN51x", None).contains("is no code"));
}
