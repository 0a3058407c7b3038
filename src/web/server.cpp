#include "tierproof/web/server.h"

#include <Poco/Exception.h>
#include <Poco/Net/Context.h>
#include <Poco/Net/HTTPRequestHandler.h>
#include <Poco/Net/HTTPRequestHandlerFactory.h>
#include <Poco/Net/HTTPServerConnection.h>
#include <Poco/Net/HTTPServerParams.h>
#include <Poco/Net/HTTPServerRequest.h>
#include <Poco/Net/HTTPServerResponse.h>
#include <Poco/Net/NetException.h>
#include <Poco/Net/NetSSL.h>
#include <Poco/Net/SSLException.h>
#include <Poco/Net/SecureServerSocket.h>
#include <Poco/Net/ServerSocket.h>
#include <Poco/Net/StreamSocket.h>
#include <Poco/Net/TCPServer.h>
#include <Poco/Net/TCPServerConnectionFactory.h>
#include <Poco/ThreadPool.h>
#include <fmt/format.h>
#include <sys/socket.h>

#include <condition_variable>
#include <map>
#include <mutex>
#include <thread>

#include "gate.h"
#include "routes.h"
#include "site.h"
#include "tierproof/text/number.h"
#include "waiting.h"

namespace tierproof {
namespace web {
namespace {

constexpr int most_threads = 64;

Instant clock_now() { return std::chrono::time_point_cast<Span>(std::chrono::system_clock::now()); }

/// The connections that are open, and a thread that closes those which are too slow. A socket stands under the address of its
/// implementation, which is held here for as long as the number is used.
class OpenConnections {
 public:
  OpenConnections() : watchdog_{[this] { watch(); }} {}
  ~OpenConnections() {
    {
      const std::lock_guard lock{mutex_};
      ending_ = true;
    }
    wake_.notify_all();
    watchdog_.join();
  }

  /// Ends all of them; their threads come to an end.
  void end_all() {
    const std::lock_guard lock{mutex_};
    for (auto& [number, one] : sockets_) close(one.socket);
  }

  static std::uint64_t number_of(const Poco::Net::StreamSocket& socket) { return reinterpret_cast<std::uintptr_t>(socket.impl()); }

  void comes(const Poco::Net::StreamSocket& socket) {
    const std::lock_guard lock{mutex_};
    const auto number = number_of(socket);
    sockets_.insert_or_assign(number, Held{socket, false});
    leave(room_.comes(number, socket.peerAddress().host().toString(), clock_now()));
  }
  void begins(const Poco::Net::StreamSocket& socket) {
    const std::lock_guard lock{mutex_};
    const auto found = sockets_.find(number_of(socket));
    if (found != sockets_.end()) found->second.has_thread = true;
  }
  bool reads_file(std::uint64_t number, std::size_t bytes) {
    const std::lock_guard lock{mutex_};
    return room_.reads_file(number, bytes, clock_now());
  }
  void works(std::uint64_t number) {
    const std::lock_guard lock{mutex_};
    room_.works(number, clock_now());
  }
  void waits(std::uint64_t number) {
    const std::lock_guard lock{mutex_};
    room_.waits(number, clock_now());
  }
  void goes(std::uint64_t number) {
    const std::lock_guard lock{mutex_};
    room_.goes(number);
    sockets_.erase(number);
  }

 private:
  struct Held {
    Poco::Net::StreamSocket socket;
    bool has_thread = false;
  };

  /// Ends it for whoever reads or writes it; below TLS, whose state belongs to the thread that works with it.
  static void close(const Poco::Net::StreamSocket& socket) { ::shutdown(socket.impl()->sockfd(), SHUT_RDWR); }

  void leave(const std::vector<std::uint64_t>& leaving) {
    for (const auto number : leaving) {
      const auto found = sockets_.find(number);
      if (found == sockets_.end()) continue;
      close(found->second.socket);
      if (found->second.has_thread) continue;  // its thread lets it go
      room_.goes(number);
      sockets_.erase(found);
    }
  }

  void watch() {
    std::unique_lock lock{mutex_};
    while (!wake_.wait_for(lock, std::chrono::milliseconds{500}, [this] { return ending_; })) leave(room_.overdue(clock_now()));
  }

  std::mutex mutex_;
  std::condition_variable wake_;
  bool ending_ = false;
  WaitingRoom room_{WaitingRoom::Limits{}};
  std::map<std::uint64_t, Held> sockets_;
  std::thread watchdog_;
};

thread_local std::uint64_t this_connection = 0;

class KitchenConnection : public Poco::Net::HTTPServerConnection {
 public:
  KitchenConnection(const Poco::Net::StreamSocket& socket, Poco::Net::HTTPServerParams::Ptr params,
                    Poco::Net::HTTPRequestHandlerFactory::Ptr factory, OpenConnections& open)
      : HTTPServerConnection{socket, std::move(params), std::move(factory)}, open_{open}, number_{OpenConnections::number_of(socket)} {
    open_.begins(socket);
  }
  ~KitchenConnection() override { open_.goes(number_); }
  void run() override {
    this_connection = number_;
    try {
      HTTPServerConnection::run();
    } catch (const Poco::Exception&) {
      // a client that went away, or sent what is no request: its connection ends, and nobody has to be told
    }
  }

 private:
  OpenConnections& open_;
  std::uint64_t number_;
};

class KitchenConnections : public Poco::Net::TCPServerConnectionFactory {
 public:
  KitchenConnections(Poco::Net::HTTPServerParams::Ptr params, Poco::Net::HTTPRequestHandlerFactory::Ptr factory, OpenConnections& open)
      : params_{std::move(params)}, factory_{std::move(factory)}, open_{open} {}
  Poco::Net::TCPServerConnection* createConnection(const Poco::Net::StreamSocket& socket) override {
    return new KitchenConnection{socket, params_, factory_, open_};
  }

 private:
  Poco::Net::HTTPServerParams::Ptr params_;
  Poco::Net::HTTPRequestHandlerFactory::Ptr factory_;
  OpenConnections& open_;
};

class Arrivals : public Poco::Net::TCPServerConnectionFilter {
 public:
  explicit Arrivals(OpenConnections& open) : open_{open} {}
  bool accept(const Poco::Net::StreamSocket& socket) override {
    try {
      open_.comes(socket);
    } catch (const Poco::Exception&) {
      return false;  // it went away before it was looked at
    }
    return true;
  }

 private:
  OpenConnections& open_;
};

/// Reads exactly `length` bytes; nothing if fewer came.
std::optional<std::string> read_body(std::istream& in, std::size_t length) {
  std::string body(length, '\0');
  in.read(body.data(), static_cast<std::streamsize>(length));
  if (static_cast<std::size_t>(in.gcount()) != length) return std::nullopt;
  return body;
}

/// Lets what is still sent go by without keeping any of it, so that whoever sends it sees the answer instead of a broken connection. The
/// connection still has only the time that an unfinished request has.
void pass_over(std::istream& in, std::size_t length) { in.ignore(static_cast<std::streamsize>(length)); }

class Handler : public Poco::Net::HTTPRequestHandler {
 public:
  Handler(Site& site, OpenConnections& open, const GateRules& rules, bool tls) : site_{site}, open_{open}, rules_{rules}, tls_{tls} {}

  void handleRequest(Poco::Net::HTTPServerRequest& asked, Poco::Net::HTTPServerResponse& response) override {
    RequestHead head{asked.getMethod(), asked.getURI(), asked.getVersion(), {}};
    for (const auto& [name, value] : asked) head.headers.emplace_back(ascii_lower(name), value);
    const bool only_head = head.method == "HEAD";
    if (auto refused = refuse_at_gate(head, rules_)) return send(response, *refused, only_head, true);
    const auto question = head.target.find('?');
    const auto path = decoded_path(std::string_view{head.target}.substr(0, question));
    const auto query =
        parse_urlencoded(question == std::string::npos ? std::string_view{} : std::string_view{head.target}.substr(question + 1));
    WebRequest request;
    request.method = only_head ? "GET" : head.method;
    request.over_tls = tls_;
    for (const auto& [name, value] : head.headers) request.headers.add(name, value);
    if (!path || !query) return send(response, plain_answer(400, "there is no such address"), only_head, true);
    request.path = *path;
    request.query = *query;
    if (head.method == "POST") {
      const auto length = static_cast<std::size_t>(asked.getContentLength64());
      if (brings_file(head, rules_)) {
        auto refused = site_.refuse_to_read(request);
        if (!refused && !open_.reads_file(this_connection, length)) {
          refused = plain_answer(503, "others are sending files at this moment, and nothing was booked; go back and send it again");
          refused->headers.emplace_back("Retry-After", "10");
        }
        if (refused) {
          send(response, *refused, only_head, true);
          return pass_over(asked.stream(), length);
        }
      }
      auto body = read_body(asked.stream(), length);
      if (!body) return send(response, plain_answer(400, "the request ended before it was whole"), only_head, true);
      request.body = std::move(*body);
    }
    open_.works(this_connection);
    send(response, site_.answer(std::move(request)), only_head, false);
    open_.waits(this_connection);
  }

 private:
  void send(Poco::Net::HTTPServerResponse& response, const WebAnswer& answer, bool only_head, bool close) {
    response.setVersion(Poco::Net::HTTPMessage::HTTP_1_1);
    response.setStatusAndReason(static_cast<Poco::Net::HTTPResponse::HTTPStatus>(answer.status));
    for (const auto& [name, value] : guarded(answer, tls_)) response.add(name, value);
    response.setContentType(answer.type);
    if (close) response.setKeepAlive(false);
    if (only_head) {
      response.setContentLength64(static_cast<Poco::Int64>(answer.body.size()));
      response.send();
    } else {
      response.sendBuffer(answer.body.data(), answer.body.size());
    }
  }

  Site& site_;
  OpenConnections& open_;
  const GateRules& rules_;
  bool tls_;
};

class Handlers : public Poco::Net::HTTPRequestHandlerFactory {
 public:
  Handlers(Site& site, OpenConnections& open, const GateRules& rules, bool tls) : site_{site}, open_{open}, rules_{rules}, tls_{tls} {}
  Poco::Net::HTTPRequestHandler* createRequestHandler(const Poco::Net::HTTPServerRequest&) override {
    return new Handler{site_, open_, rules_, tls_};
  }

 private:
  Site& site_;
  OpenConnections& open_;
  const GateRules& rules_;
  bool tls_;
};

/// The certificate first, then its key: a key that belongs to another certificate is only refused in this order, and nobody could come in
/// with it. A key under a passphrase is refused too, since the library would ask for it in the window.
/// @throws Fault 78
Poco::Net::Context::Ptr secured(const Serving& serving) {
  try {
    Poco::Net::Context::Ptr context{new Poco::Net::Context{Poco::Net::Context::TLS_SERVER_USE, "", serving.certificate, "",
                                                           Poco::Net::Context::VERIFY_NONE, 9, false,
                                                           "ECDHE+AESGCM:ECDHE+CHACHA20:!aNULL"}};
    SSL_CTX_set_default_passwd_cb(context->sslContext(), [](char*, int, int, void*) { return -1; });
    if (SSL_CTX_use_PrivateKey_file(context->sslContext(), serving.certificate_key.c_str(), SSL_FILETYPE_PEM) != 1)
      throw Poco::Net::SSLContextException{"the key cannot be read, or is not of this certificate"};
    context->requireMinimumProtocol(Poco::Net::Context::PROTO_TLSV1_2);
    return context;
  } catch (const Poco::Exception& error) {
    throw Fault{exit_status::configuration,
                fmt::format("{} and {}: cannot be used for TLS ({}); give a certificate and its own key as PEM files, the key without a "
                            "passphrase",
                            serving.certificate, serving.certificate_key, error.displayText())};
  }
}

/// @throws Fault 73, 78
Poco::Net::ServerSocket listening(const Serving& serving, const Poco::Net::SocketAddress& at) {
  const auto context = serving.certificate.empty() ? Poco::Net::Context::Ptr{} : secured(serving);
  try {
    if (context.isNull()) return Poco::Net::ServerSocket{at, 128};
    return Poco::Net::SecureServerSocket{at, 128, context};
  } catch (const Poco::Net::NetException& error) {
    throw Fault{exit_status::cannot_create, fmt::format("{}: the pages cannot be opened there ({}); name another --port or --address",
                                                        at.toString(), error.displayText())};
  }
}

Poco::Net::SocketAddress address_of(const Serving& serving) {
  try {
    return {Poco::Net::IPAddress{serving.address}, serving.port};
  } catch (const Poco::Exception&) {
    throw Fault{
        exit_status::usage,
        fmt::format("--address: \"{}\" is no address; write one of this machine, such as 127.0.0.1 or 192.168.1.20", serving.address)};
  }
}

}  // namespace
}  // namespace web

struct OpenPages::Parts {
  std::string url;
  std::vector<std::string> to_tell;
  web::GateRules rules;
  std::unique_ptr<web::Site> site;
  std::unique_ptr<web::OpenConnections> open;
  std::unique_ptr<Poco::ThreadPool> threads;
  std::unique_ptr<Poco::Net::TCPServer> server;
};

OpenPages::OpenPages(const Serving& serving, const DataRoot& data, std::shared_ptr<const RulePacks> packs)
    : parts_{std::make_unique<Parts>()} {
  const bool tls = !serving.certificate.empty();
  if (tls == serving.certificate_key.empty())
    throw Fault{exit_status::usage, "--certificate and --certificate-key: TLS needs both files; name both, or neither"};
  const auto at = web::address_of(serving);
  const bool loopback = at.host().isLoopback();
  if (!loopback && !tls && !serving.plain_network) {
    throw Fault{exit_status::usage,
                fmt::format("--address {}: whoever is on that network could read and change what passes; give --certificate and "
                            "--certificate-key, or take that risk with --plain-network",
                            serving.address)};
  }
  if (tls) Poco::Net::initializeSSL();
  auto socket = web::listening(serving, at);
  const auto port = socket.address().port();
  for (const char* before : {"", "/api/v1"}) parts_->rules.file_paths.push_back(std::string{before} + web::path_of_files);
  parts_->rules.largest_with_file = web::largest_form_with_file;
  const std::string host = at.host().family() == Poco::Net::IPAddress::IPv6 ? fmt::format("[{}]", serving.address) : serving.address;
  const auto known_as = [&](const std::string& name) {
    parts_->rules.hosts.push_back(fmt::format("{}:{}", ascii_lower(name), port));
    if (port == (tls ? 443 : 80)) parts_->rules.hosts.push_back(ascii_lower(name));
  };
  if (!at.host().isWildcard()) known_as(host);
  if (loopback) known_as("localhost");
  for (const auto& name : serving.names) known_as(name);
  if (parts_->rules.hosts.empty())
    throw Fault{exit_status::usage,
                fmt::format("--address {}: say by which name other devices call this machine, with --called", serving.address)};
  parts_->url = fmt::format("{}://{}/", tls ? "https" : "http", parts_->rules.hosts.front());

  web::SiteSettings settings;
  settings.kitchen_file = serving.kitchen_file;
  settings.data = data;
  settings.packs = std::move(packs);
  settings.tls = tls;
  settings.plain_network = !loopback && !tls;
  settings.origins = parts_->rules.hosts;
  settings.clock_from = serving.now;
  parts_->site = std::make_unique<web::Site>(std::move(settings));
  if (!loopback && !tls)
    parts_->to_tell.emplace_back("NOT ENCRYPTED: whoever is on this network can read what passes, PINs included, and change it.");
  if (const auto code = parts_->site->code_for_first_device())
    parts_->to_tell.push_back(
        fmt::format("Open {} and type this code to let the first device in, within ten minutes: {}", parts_->url, *code));

  parts_->open = std::make_unique<web::OpenConnections>();
  parts_->threads = std::make_unique<Poco::ThreadPool>(8, web::most_threads);
  Poco::Net::HTTPServerParams::Ptr params{new Poco::Net::HTTPServerParams};
  params->setMaxThreads(web::most_threads);
  params->setMaxQueued(256);
  params->setTimeout(Poco::Timespan{10, 0});
  params->setKeepAlive(true);
  params->setKeepAliveTimeout(Poco::Timespan{5, 0});
  params->setMaxKeepAliveRequests(100);
  params->setSoftwareVersion("");
  Poco::Net::HTTPRequestHandlerFactory::Ptr handlers{new web::Handlers{*parts_->site, *parts_->open, parts_->rules, tls}};
  Poco::Net::TCPServerConnectionFactory::Ptr connections{new web::KitchenConnections{params, handlers, *parts_->open}};
  parts_->server = std::make_unique<Poco::Net::TCPServer>(connections, *parts_->threads, socket, params);
  parts_->server->setConnectionFilter(new web::Arrivals{*parts_->open});
  parts_->server->start();
}

OpenPages::~OpenPages() {
  parts_->server->stop();
  parts_->open->end_all();
  parts_->threads->joinAll();
}

const std::string& OpenPages::url() const { return parts_->url; }
bool OpenPages::of_a_demo() const { return parts_->site->of_a_demo(); }
const std::vector<std::string>& OpenPages::to_tell() const { return parts_->to_tell; }

}  // namespace tierproof
