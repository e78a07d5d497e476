//! How the command is linked.

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    // A program that may lie anywhere in memory has its hundred thousand pointers (most of them the typesetter's) written
    // anew at every start: a third of the time that a check of one procedure takes. The libraries, the heap and the
    // stack still lie anywhere.
    if cfg!(target_os = "linux") {
        println!("cargo:rustc-link-arg-bins=-no-pie");
    }
}
