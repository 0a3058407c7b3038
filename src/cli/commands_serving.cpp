#include <fmt/format.h>
#include <signal.h>

#include "door.h"
#include "tierproof/text/number.h"
#include "tierproof/web/server.h"

namespace tierproof::cli {
namespace {

/// The signals that end a program that waits, held back from every thread that is begun from now on.
sigset_t ending_signals_held() {
  sigset_t ending;
  sigemptyset(&ending);
  sigaddset(&ending, SIGINT);
  sigaddset(&ending, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &ending, nullptr);
  signal(SIGPIPE, SIG_IGN);
  return ending;
}

}  // namespace

void serve_options(CLI::App& app, Door& door) {
  struct Options {
    Serving serving;
    std::int64_t port = 8321;
  };
  auto options = std::make_shared<Options>();
  auto& serving = options->serving;
  app.add_option("--address", serving.address,
                 "address of this machine to listen on; other devices reach it only at one that is not 127.0.0.1")
      ->capture_default_str();
  app.add_option("--port", options->port, "port; 0: a free one")->check(whole_number(0, 65535))->capture_default_str();
  app.add_option("--called", serving.names, "a name by which other devices call this machine, kitchen.local; give each");
  app.add_option("--certificate", serving.certificate, "TLS certificate, a PEM file");
  app.add_option("--certificate-key", serving.certificate_key, "its key, a PEM file");
  app.add_flag("--plain-network", serving.plain_network,
               "take the risk of a network without TLS: whoever is on it can read what passes, PINs included, and change it");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Serving asked = options->serving;
      asked.kitchen_file = d.kitchen_file;
      asked.port = static_cast<std::uint16_t>(options->port);
      asked.now = d.entrance().now;
      const sigset_t ending = ending_signals_held();
      const OpenPages pages{asked, d.data(), rule_packs()};
      Door::mark_demo(pages.of_a_demo());
      for (const auto& line : pages.to_tell()) Door::say(line);
      Door::say(fmt::format("The kitchen's pages are open at {}; Ctrl+C closes them.", pages.url()));
      std::fflush(stdout);
      int which = 0;
      sigwait(&ending, &which);
      return static_cast<int>(exit_status::done);
    };
  });
}

}  // namespace tierproof::cli
