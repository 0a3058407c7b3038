// How long the kitchen's pages take over the network of one machine, on a large kitchen: each page alone, and the news while twenty clients
// ask for them and readings come in. Floors of the same run: the smallest page in the same frame, and a bare server of the same library
// that answers the same bytes. The kitchen is the demo's year, which `reports/year FOLDER` writes. Run:
// TIERPROOF_YEAR=FOLDER/kitchen.tierproof build-test/pages_bench
#include <Poco/Net/HTTPClientSession.h>
#include <Poco/Net/HTTPRequest.h>
#include <Poco/Net/HTTPRequestHandler.h>
#include <Poco/Net/HTTPRequestHandlerFactory.h>
#include <Poco/Net/HTTPResponse.h>
#include <Poco/Net/HTTPServer.h>
#include <Poco/Net/HTTPServerRequest.h>
#include <Poco/Net/HTTPServerResponse.h>
#include <Poco/StreamCopier.h>
#include <Poco/URI.h>
#include <benchmark/benchmark.h>
#include <stdlib.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "tierproof/app/access.h"
#include "tierproof/app/session.h"
#include "tierproof/web/server.h"

namespace {
using namespace tierproof;
using Clock = std::chrono::steady_clock;

constexpr const char* pin = "740292";
double milliseconds_since(Clock::time_point start) { return std::chrono::duration<double, std::milli>(Clock::now() - start).count(); }

double at_share(std::vector<double> all, double share) {
  std::sort(all.begin(), all.end());
  return all[std::min(all.size() - 1, static_cast<std::size_t>(share * static_cast<double>(all.size())))];
}

struct Heard {
  int status = 0;
  std::string body;
};

/// A browser on one connection that stays open, with its cookies.
class Client {
 public:
  explicit Client(const std::string& url) : uri_{url}, session_{uri_.getHost(), uri_.getPort()} {
    session_.setKeepAlive(true);
    session_.setTimeout(Poco::Timespan{30, 0});
  }
  Heard ask(const std::string& method, const std::string& path, const std::string& form = "") {
    try {
      return asked(method, path, form);
    } catch (const Poco::Exception&) {  // the connection was kept open and ended in between: a browser asks again on a new one
      session_.reset();
      return asked(method, path, form);
    }
  }
  void use(const Client& other) { cookies_ = other.cookies_; }

 private:
  Heard asked(const std::string& method, const std::string& path, const std::string& form) {
    Poco::Net::HTTPRequest request{method, path, Poco::Net::HTTPRequest::HTTP_1_1};
    request.setHost(uri_.getHost(), uri_.getPort());
    if (!cookies_.empty()) request.set("Cookie", cookies_);
    if (method == "POST") {
      request.setContentType("application/x-www-form-urlencoded");
      request.setContentLength(static_cast<std::streamsize>(form.size()));
    }
    session_.sendRequest(request) << form;
    Poco::Net::HTTPResponse response;
    Heard heard;
    Poco::StreamCopier::copyToString(session_.receiveResponse(response), heard.body);
    heard.status = static_cast<int>(response.getStatus());
    for (const auto& [name, value] : response) {
      if (name == "Set-Cookie") cookies_ += (cookies_.empty() ? "" : "; ") + value.substr(0, value.find(';'));
    }
    return heard;
  }

  Poco::URI uri_;
  Poco::Net::HTTPClientSession session_;
  std::string cookies_;
};

/// A copy of the year's kitchen, served as on the evening of its last note.
class YearServed {
 public:
  static YearServed& get() {
    static YearServed one;
    return one;
  }
  Client& owner() { return *owner_; }
  const std::string& url() const { return pages_->url(); }
  std::size_t notes() const { return notes_; }
  std::string form_token() {
    const std::string page = owner_->ask("GET", "/cold/read/cake-fridge").body;
    const std::string before = "name=\"token\" value=\"";
    const auto at = page.find(before);
    if (at == std::string::npos) std::abort();
    return page.substr(at + before.size(), page.find('"', at + before.size()) - at - before.size());
  }

 private:
  YearServed() {
    const char* year = ::getenv("TIERPROOF_YEAR");
    if (year == nullptr || !std::filesystem::exists(year)) {
      std::fputs("TIERPROOF_YEAR does not name the kitchen file of a year: make one with reports/year FOLDER\n", stderr);
      std::exit(66);
    }
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-bench-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
    Serving serving;
    serving.kitchen_file = (folder_ / "kitchen.tierproof").string();
    serving.port = 0;
    std::filesystem::copy_file(year, serving.kitchen_file);
    const auto packs = rule_packs();
    Entrance entrance;
    entrance.kitchen_file = serving.kitchen_file;
    {
      Session session{entrance, packs, open_sqlite(serving.kitchen_file, true)};
      notes_ = session.head().size;
      serving.now = session.notes().back().written + std::chrono::minutes{1};
      Access::open(serving.kitchen_file, true)->set_pin("iris", pin, *serving.now);
    }
    pages_ = std::make_unique<OpenPages>(serving, find_data(), packs);
    owner_ = std::make_unique<Client>(pages_->url());
    std::string code = pages_->to_tell().back();
    code = code.substr(code.rfind(':') + 2);
    std::replace(code.begin(), code.end(), ' ', '+');
    owner_->ask("POST", "/let-in", "code=" + code + "&name=bench");
    if (owner_->ask("POST", "/who", std::string{"person=iris&pin="} + pin).status != 303) std::abort();
  }
  ~YearServed() {
    owner_.reset();
    pages_.reset();
    std::filesystem::remove_all(folder_);
  }

  std::filesystem::path folder_;
  std::size_t notes_ = 0;
  std::unique_ptr<OpenPages> pages_;
  std::unique_ptr<Client> owner_;
};

/// The best of some times that a page was asked for, in milliseconds, and the worst after the first.
void time_of(const std::string& path, int times, double& best, double& worst, std::size_t& bytes) {
  best = 1e9;
  worst = 0;
  for (int i = 0; i < times; ++i) {
    const auto start = Clock::now();
    const Heard heard = YearServed::get().owner().ask("GET", path);
    const double took = milliseconds_since(start);
    if (heard.status != 200) std::abort();
    bytes = heard.body.size();
    best = std::min(best, took);
    worst = std::max(worst, took);
  }
}

/// One page, on records that nothing was booked in since the last; beside the smallest page of the same frame.
void OnePage(benchmark::State& state, const std::string& path) {
  double floor = 0, best = 0, worst = 0;
  std::size_t bytes = 0;
  time_of("/bench/kit", 5, floor, worst, bytes);
  for (auto _ : state) time_of(path, 5, best, worst, bytes);
  state.counters["best_ms"] = best;
  state.counters["worst_ms"] = worst;
  state.counters["asked_ms"] = 100;
  state.counters["ratio"] = best / floor;
  state.counters["kb"] = static_cast<double>(bytes) / 1024.0;
  state.counters["notes"] = static_cast<double>(YearServed::get().notes());
}

/// The next page after something was booked: the records are brought up to date for it.
void NextPageAfterANote(benchmark::State& state) {
  YearServed& year = YearServed::get();
  const std::string token = year.form_token();
  double floor = 0, worst = 0, slowest = 0, fastest = 1e9;
  std::size_t bytes = 0;
  time_of("/cold/read/cake-fridge", 5, floor, worst, bytes);
  for (auto _ : state) {
    for (int i = 0; i < 5; ++i) {
      if (year.owner().ask("POST", "/cold/temperature", "about=cake-fridge&thermometer=fridge-logger&reading=3.9&token=" + token).status !=
          303)
        std::abort();
      const auto start = Clock::now();
      year.owner().ask("GET", "/cold/read/cake-fridge");
      slowest = std::max(slowest, milliseconds_since(start));
      fastest = std::min(fastest, milliseconds_since(start));
    }
  }
  state.counters["best_ms"] = fastest;
  state.counters["worst_ms"] = slowest;
  state.counters["asked_ms"] = 100;
  state.counters["ratio"] = fastest / floor;
}

class Bare : public Poco::Net::HTTPRequestHandler {
 public:
  explicit Bare(const std::string& body) : body_{body} {}
  void handleRequest(Poco::Net::HTTPServerRequest&, Poco::Net::HTTPServerResponse& response) override {
    response.sendBuffer(body_.data(), body_.size());
  }

 private:
  const std::string& body_;
};
class BareFactory : public Poco::Net::HTTPRequestHandlerFactory {
 public:
  explicit BareFactory(std::string body) : body_{std::move(body)} {}
  Poco::Net::HTTPRequestHandler* createRequestHandler(const Poco::Net::HTTPServerRequest&) override { return new Bare{body_}; }

 private:
  std::string body_;
};

/// How long `path` took each time, by `clients` at once of which each asks ten times a second for `seconds`.
std::vector<double> polled(const std::string& url, const std::string& path, int clients, double seconds) {
  std::vector<double> all;
  std::mutex guard;
  std::vector<std::thread> threads;
  for (int i = 0; i < clients; ++i) {
    threads.emplace_back([&, i] {
      Client client{url};
      client.use(YearServed::get().owner());
      std::vector<double> mine;
      std::this_thread::sleep_for(std::chrono::milliseconds{100 * i / clients});
      const auto begun = Clock::now();
      while (milliseconds_since(begun) < seconds * 1000) {
        const auto start = Clock::now();
        if (client.ask("GET", path).status != 200) std::abort();
        mine.push_back(milliseconds_since(start));
        std::this_thread::sleep_until(start + std::chrono::milliseconds{100});
      }
      const std::lock_guard lock{guard};
      all.insert(all.end(), mine.begin(), mine.end());
    });
  }
  for (auto& thread : threads) thread.join();
  return all;
}

/// Twenty clients ask for the news, each twenty times as often as a page does; every `between` a reading is booked (0: none).
void NewsUnderTwentyClients(benchmark::State& state) {
  YearServed& year = YearServed::get();
  const auto between = std::chrono::milliseconds{state.range(0)};
  Poco::Net::ServerSocket socket{Poco::Net::SocketAddress{"127.0.0.1", 0}};
  Poco::Net::HTTPServer bare{new BareFactory{year.owner().ask("GET", "/news").body}, socket, new Poco::Net::HTTPServerParams};
  bare.start();
  const auto floor = polled("http://127.0.0.1:" + std::to_string(socket.address().port()) + "/", "/", 20, 5);
  bare.stop();
  std::vector<double> took;
  for (auto _ : state) {
    std::atomic<bool> over{false};
    std::thread books;
    if (between.count() > 0) {
      books = std::thread{[&] {
        Client client{year.url()};
        client.use(year.owner());
        const std::string token = year.form_token();
        while (!over) {
          client.ask("POST", "/cold/temperature", "about=cake-fridge&thermometer=fridge-logger&reading=3.9&token=" + token);
          std::this_thread::sleep_for(between);
        }
      }};
    }
    took = polled(year.url(), "/news", 20, 10);
    over = true;
    if (books.joinable()) books.join();
  }
  state.counters["p50_ms"] = at_share(took, 0.5);
  state.counters["p99_ms"] = at_share(took, 0.99);
  state.counters["asked_p99_ms"] = 10;
  state.counters["floor_p99_ms"] = at_share(floor, 0.99);
  state.counters["ratio"] = at_share(took, 0.99) / at_share(floor, 0.99);
  state.counters["asks"] = static_cast<double>(took.size());
}

}  // namespace

int main(int argc, char** argv) {
  for (const char* path : {"/cupboard",
                           "/cupboard/in",
                           "/bench",
                           "/cold",
                           "/cold/place/cake-fridge",
                           "/cold/read/cake-fridge",
                           "/leaving",
                           "/leaving/cake/cake-8",
                           "/leaving/new",
                           "/leaving/counter",
                           "/gone",
                           "/gone/cake/cake-1",
                           "/gone/trace?of=pack-1",
                           "/drawer",
                           "/drawer/due",
                           "/drawer/wrong",
                           "/drawer/plan",
                           "/drawer/notes",
                           "/drawer/note/3",
                           "/drawer/list/packs",
                           "/drawer/list/temperatures",
                           "/drawer/people",
                           "/drawer/devices",
                           "/drawer/officer",
                           "/drawer/officer?from=2027-03-29&until=2027-04-25"})
    benchmark::RegisterBenchmark((std::string{"OnePage"} + path).c_str(), [path](benchmark::State& state) { OnePage(state, path); })
        ->Iterations(1)
        ->Unit(benchmark::kMillisecond);
  benchmark::RegisterBenchmark("NextPageAfterANote", NextPageAfterANote)->Iterations(1)->Unit(benchmark::kMillisecond);
  benchmark::RegisterBenchmark("NewsUnderTwentyClients", NewsUnderTwentyClients)
      ->Arg(0)
      ->Arg(2000)
      ->ArgName("ms_between_notes")
      ->Iterations(1)
      ->Unit(benchmark::kMillisecond);
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
}
