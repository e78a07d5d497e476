//! The `locknut` command: arguments, streams, exit status.
//!
//! In: the command line. Out: results on standard output, messages on standard error, files beside
//! their final place and moved into it, and the exit status: 0 nothing wrong, 1 the library has
//! errors, 2 the command could not be carried out. The interesting idea: a command is one file that
//! holds its arguments, its help and what it does.
//!
//! *It does not know* how anything is checked, proved, worded or laid out.

mod commands;
mod files;
mod outputs;
mod problem;
mod terminal;

use clap::Parser;
use commands::Command;
use std::process::ExitCode;
use terminal::Terminal;

/// Trees and graphs are many small pieces made on all threads; this makes and frees them in less time.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Procedures that don't work loose: checks, proves and prints repair procedures.
///
/// Exit status: 0 nothing wrong, 1 the library has errors, 2 the command could not be carried out.
#[derive(Debug, Parser)]
#[command(name = "locknut", version, max_term_width = 100)]
struct Arguments {
    /// Colour in messages: where a terminal is there, always, or never (`NO_COLOR` is kept)
    #[arg(long, global = true, value_enum, default_value_t = terminal::Color::Auto)]
    color: terminal::Color,
    #[command(subcommand)]
    command: Command,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let terminal = Terminal::new(arguments.color);
    match arguments.command.run(&terminal) {
        Ok(clean) => ExitCode::from(u8::from(!clean)),
        Err(problem) => {
            terminal.message(&format!("locknut: {problem}"));
            ExitCode::from(2)
        }
    }
}
