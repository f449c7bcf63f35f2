//! Arguments in, exit code out.

fn main() -> std::process::ExitCode {
    ringwright::cli::run()
}
