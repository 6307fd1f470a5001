//! The `tympan` program: hands the command line to `commands`.
fn main() -> std::process::ExitCode {
    tympan::commands::run()
}
