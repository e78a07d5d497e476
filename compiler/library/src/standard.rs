//! The standard library, carried in the program.

/// Name (`elements/bolts.lkn`) and text of each file of the standard library, by name.
pub fn standard() -> &'static [(&'static str, &'static str)] {
    include!(concat!(env!("OUT_DIR"), "/standard.rs"))
}
