#pragma once

namespace tierproof::cli {

/// Parses the command line, runs one command and returns its exit status. @throws Fault
int run(int argc, char** argv);

}  // namespace tierproof::cli
