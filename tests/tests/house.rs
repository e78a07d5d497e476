//! The promises of the map.

#[test]
fn no_crate_knows_more_than_it_promised() {
    let broken = locknut_tests::house::broken_promises().expect("cargo can be asked");
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}
