#pragma once

namespace tierproof::cli {

/// The whole program: parses the command line, runs one command, and tells a fault on standard error; with --json on standard output
/// too, as one object (schema `tierproof/failed/1`). Returns the exit status.
int run_program(int argc, char** argv);

}  // namespace tierproof::cli
