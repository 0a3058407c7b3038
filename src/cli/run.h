#pragma once

#include <string>

namespace tierproof::cli {

/// Parses the command line, runs one command and returns its exit status. @throws Fault
int run(int argc, char** argv);

/// When the command line asks for --json, tells on standard output what went wrong, as one object (schema `tierproof/failed/1`).
void print_failed(int argc, char** argv, const std::string& message, int exit);

}  // namespace tierproof::cli
