fn main() -> std::process::ExitCode {
    nailplate::cli::run()
}
