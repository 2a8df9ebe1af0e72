//! Links the program against nothing.

fn main() {
    for argument in ["-nostartfiles", "-nodefaultlibs", "-static", "-no-pie"] {
        println!("cargo::rustc-link-arg-bins={argument}");
    }
}
