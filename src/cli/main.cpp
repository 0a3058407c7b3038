#include "run.h"

int main(int argc, char** argv) { return tierproof::cli::run_program(argc, argv); }
