//! The `tympan` program: hands the command line to `commands`.

/// A page is thousands of small pieces made and dropped again, which the system's own allocator is slow at.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    tympan::commands::run()
}
