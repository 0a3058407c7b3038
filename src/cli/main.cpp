#include <cstdio>
#include <exception>

#include "run.h"
#include "tierproof/units/result.h"

int main(int argc, char** argv) {
  try {
    return tierproof::cli::run(argc, argv);
  } catch (const tierproof::Fault& fault) {
    std::fprintf(stderr, "%s\n", fault.what());
    if (fault.exit_status() == tierproof::exit_status::try_later) std::fputs("somebody else is recording: run the command again\n", stderr);
    tierproof::cli::print_failed(argc, argv, fault.what(), fault.exit_status());
    return fault.exit_status();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "this is a fault of the program, please report it: %s\n", error.what());
    tierproof::cli::print_failed(argc, argv, error.what(), tierproof::exit_status::our_bug);
    return tierproof::exit_status::our_bug;
  }
}
