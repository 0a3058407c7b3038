#include "tierproof/web/server.h"

#include <Poco/Net/NetException.h>
#include <Poco/Net/SocketAddress.h>
#include <Poco/Net/StreamSocket.h>
#include <gtest/gtest.h>

#include <chrono>
#include <memory>

#include "kitchen_of_pages.h"

namespace tierproof::web {
namespace {

using namespace std::chrono_literals;

/// The pages of a kitchen at a port of their own.
class AtAPort : public testing::Test {
 protected:
  void SetUp() override {
    kitchen.site.reset();
    Serving serving;
    serving.kitchen_file = kitchen.file();
    serving.port = 0;
    serving.now = kitchen.begun_at;
    pages = std::make_unique<OpenPages>(serving, find_data(), kitchen.packs);
    host = pages->url().substr(7, pages->url().size() - 8);
  }
  std::unique_ptr<Poco::Net::StreamSocket> socket() {
    auto open = std::make_unique<Poco::Net::StreamSocket>(Poco::Net::SocketAddress{host});
    open->setReceiveTimeout(Poco::Timespan{20, 0});
    return open;
  }
  /// Sends bytes as they are and gives what comes until the connection ends.
  std::string raw(const std::string& bytes, bool end_sending = true) {
    auto open = socket();
    open->sendBytes(bytes.data(), static_cast<int>(bytes.size()));
    if (end_sending) open->shutdownSend();
    std::string all;
    char part[4096];
    try {
      for (int count; (count = open->receiveBytes(part, sizeof part)) > 0;) all.append(part, static_cast<std::size_t>(count));
    } catch (const Poco::Exception&) {
      all += "(cut)";
    }
    return all;
  }
  std::string with_host(const std::string& line, const std::string& more = "") {
    return line + " HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n" + more + "\r\n";
  }

  KitchenOfPages kitchen;
  std::unique_ptr<OpenPages> pages;
  std::string host;
};

TEST_F(AtAPort, APageComesWithItsArmour) {
  const std::string answer = raw(with_host("GET /let-in"), false);
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 200 ")) << answer;
  for (const char* header : {"Content-Security-Policy: default-src 'none'", "X-Content-Type-Options: nosniff", "Cache-Control: no-store"})
    EXPECT_NE(answer.find(header), std::string::npos) << header;
  EXPECT_EQ(answer.find("Server:"), std::string::npos);
}

// Hostile rows: what is sent, and how the answer begins; an empty beginning is a connection that ends without one.
TEST_F(AtAPort, HostileRequestsAreRefusedBeforeAnythingLooksAtThem) {
  struct Sent {
    const char* what;
    std::string bytes;
    const char* begins;
  };
  const std::string h = "Host: " + host + "\r\n";
  const Sent rows[] = {{"no host", "GET / HTTP/1.1\r\n\r\n", "HTTP/1.1 400"},
                       {"another host", "GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", "HTTP/1.1 421"},
                       {"two hosts", "GET / HTTP/1.1\r\n" + h + h + "\r\n", "HTTP/1.1 400"},
                       {"TRACE", "TRACE / HTTP/1.1\r\n" + h + "\r\n", "HTTP/1.1 405"},
                       {"HTTP/2", "PRI * HTTP/2.0\r\n\r\n", "HTTP/1.1 505"},
                       {"chunked beside a length",
                        "POST /who HTTP/1.1\r\n" + h + "Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", "HTTP/1.1 501"},
                       {"two lengths", "POST /who HTTP/1.1\r\n" + h + "Content-Length: 3\r\nContent-Length: 4\r\n\r\nabcd", "HTTP/1.1 400"},
                       {"a body with a question", "GET / HTTP/1.1\r\n" + h + "Content-Length: 5\r\n\r\nGET /", "HTTP/1.1 400"},
                       {"too long", "POST /who HTTP/1.1\r\n" + h + "Content-Length: 70000\r\n\r\n", "HTTP/1.1 413"},
                       {"shorter than it says", "POST /who HTTP/1.1\r\n" + h + "Content-Length: 50\r\n\r\nperson=ada", "HTTP/1.1 400"},
                       {"out of its place", "GET /look/../kitchen.tierproof HTTP/1.1\r\n" + h + "\r\n", "HTTP/1.1 400"},
                       {"out of its place, in codes", "GET /look/%2e%2e/kitchen.tierproof HTTP/1.1\r\n" + h + "\r\n", "HTTP/1.1 400"}};
  for (const auto& row : rows) {
    const std::string answer = raw(row.bytes);
    EXPECT_TRUE(answer.starts_with(row.begins)) << row.what << ": " << answer.substr(0, 200);
    EXPECT_EQ(answer.find(kitchen.folder.string()), std::string::npos) << row.what;
  }
}

TEST_F(AtAPort, TwoHundredIdleAndDrippingConnectionsDoNotStopAPage) {
  std::vector<std::unique_ptr<Poco::Net::StreamSocket>> idle;
  const auto drip = [&](std::size_t number, const std::string& bytes) {
    try {
      idle[number]->sendBytes(bytes.data(), static_cast<int>(bytes.size()));
    } catch (const Poco::Exception&) {  // it was told to go
    }
  };
  for (std::size_t i = 0; i < 200; ++i) {
    idle.push_back(socket());
    if (i % 2 == 0) drip(i, "GET /let-in HTTP/1.1\r\nX: ");
  }
  for (int round = 0; round < 3; ++round) {
    for (std::size_t i = 0; i < 200; i += 2) drip(i, "a");
    const auto began = std::chrono::steady_clock::now();
    const std::string answer = raw(with_host("GET /let-in"), false);
    const auto took = std::chrono::steady_clock::now() - began;
    EXPECT_TRUE(answer.starts_with("HTTP/1.1 200 ")) << answer.substr(0, 200);
    EXPECT_LT(took, 2s) << "the idle ones hold their threads for 6 s where nobody makes room";
  }
}

TEST_F(AtAPort, ADrippingRequestEndsAtItsDeadline) {
  auto slow = socket();
  const auto began = std::chrono::steady_clock::now();
  bool ended = false;
  while (!ended && std::chrono::steady_clock::now() - began < 15s) {
    try {
      slow->sendBytes("G", 1);
      if (slow->poll(Poco::Timespan{0, 500'000}, Poco::Net::Socket::SELECT_READ)) {
        char part[64];
        ended = slow->receiveBytes(part, sizeof part) <= 0;
      }
    } catch (const Poco::Exception&) {
      ended = true;
    }
  }
  EXPECT_TRUE(ended);
}

class Opening : public testing::Test {
 protected:
  int refused(Serving serving) {
    serving.kitchen_file = kitchen.file();
    serving.port = 0;
    serving.now = kitchen.begun_at;
    kitchen.site.reset();
    try {
      const OpenPages pages{serving, find_data(), kitchen.packs};
      told = pages.to_tell();
      return 0;
    } catch (const Fault& fault) {
      return fault.exit_status();
    }
  }
  KitchenOfPages kitchen;
  std::vector<std::string> told;
};

TEST_F(Opening, OffLoopbackNeedsTlsOrSomebodyWhoTakesTheRisk) {
  Serving wide;
  wide.address = "0.0.0.0";
  wide.names = {"kitchen.local"};
  EXPECT_EQ(refused(wide), exit_status::usage);
  wide.plain_network = true;
  EXPECT_EQ(refused(wide), 0);
  ASSERT_FALSE(told.empty());
  EXPECT_NE(told.front().find("NOT ENCRYPTED"), std::string::npos);
}

TEST_F(Opening, HalfOfTlsIsNone) {
  Serving half;
  half.certificate = "kitchen.pem";
  EXPECT_EQ(refused(half), exit_status::usage);
}

TEST_F(Opening, AnAddressOfNoMachineIsRefused) {
  Serving nowhere;
  nowhere.address = "the kitchen";
  EXPECT_EQ(refused(nowhere), exit_status::usage);
  nowhere.address = "203.0.113.7";  // RFC 5737: an address for documents
  nowhere.plain_network = true;
  EXPECT_EQ(refused(nowhere), exit_status::cannot_create);
}

}  // namespace
}  // namespace tierproof::web
