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
