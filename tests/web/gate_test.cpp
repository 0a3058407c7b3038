#include "web/gate.h"

#include <gtest/gtest.h>

namespace tierproof::web {
namespace {

/// A request as it comes in, and what the gate says: 0 lets it in.
struct AtGate {
  const char* what;
  RequestHead head;
  int status;
};
using Headers = std::vector<std::pair<std::string, std::string>>;
const Headers ours{{"host", "kitchen.local:8321"}};

RequestHead asked(const char* method, const char* target, Headers headers, const char* version = "HTTP/1.1") {
  return {method, target, version, std::move(headers)};
}
Headers with(Headers headers, Headers more) {
  headers.insert(headers.end(), more.begin(), more.end());
  return headers;
}

class Gate : public testing::TestWithParam<AtGate> {};

// Message framing: RFC 9112 sections 3.2 (Host), 6.1 (Transfer-Encoding), 6.3 (lengths that disagree). Statuses: RFC 9110 section 15.
TEST_P(Gate, LetsInOnlyWhatAPageOrASensorOfOursSends) {
  const auto refused = refuse_at_gate(GetParam().head, {{"kitchen.local:8321", "127.0.0.1:8321"}, 1000, {"/drawer/attach"}, 9000});
  EXPECT_EQ(refused ? refused->status : 0, GetParam().status) << GetParam().what;
}

INSTANTIATE_TEST_SUITE_P(
    Rows, Gate,
    testing::Values(
        AtGate{"a page", asked("GET", "/cold", ours), 0}, AtGate{"its head", asked("HEAD", "/cold", ours), 0},
        AtGate{"an older client", asked("GET", "/", ours, "HTTP/1.0"), 0},
        AtGate{"a name in capitals", asked("GET", "/", {{"host", "Kitchen.LOCAL:8321"}}), 0},
        AtGate{"a form", asked("POST", "/cold/put", with(ours, {{"content-length", "1000"}})), 0},
        AtGate{"an empty form", asked("POST", "/leave", with(ours, {{"content-length", "0"}})), 0},
        AtGate{"one byte more than allowed", asked("POST", "/cold/put", with(ours, {{"content-length", "1001"}})), 413},
        AtGate{"a file", asked("POST", "/drawer/attach", with(ours, {{"content-length", "9000"}})), 0},
        AtGate{"a file with a question", asked("POST", "/drawer/attach?x=1", with(ours, {{"content-length", "9000"}})), 0},
        AtGate{"a larger file", asked("POST", "/drawer/attach", with(ours, {{"content-length", "9001"}})), 413},
        AtGate{"a file elsewhere", asked("POST", "/drawer/attached", with(ours, {{"content-length", "9000"}})), 413},
        AtGate{"a file below", asked("POST", "/drawer/attach/1", with(ours, {{"content-length", "9000"}})), 413},
        AtGate{"a file behind a question", asked("POST", "/cold/put?/drawer/attach", with(ours, {{"content-length", "9000"}})), 413},
        AtGate{"a length beyond every number", asked("POST", "/x", with(ours, {{"content-length", "99999999999999999999999"}})), 400},
        AtGate{"no host", asked("GET", "/", {}), 400}, AtGate{"two hosts", asked("GET", "/", with(ours, ours)), 400},
        AtGate{"a name that somebody else points here", asked("GET", "/", {{"host", "evil.example"}}), 421},
        AtGate{"our name at another port", asked("GET", "/", {{"host", "kitchen.local:80"}}), 421},
        AtGate{"TRACE", asked("TRACE", "/", ours), 405}, AtGate{"OPTIONS", asked("OPTIONS", "*", ours), 405},
        AtGate{"CONNECT", asked("CONNECT", "evil.example:443", ours), 405},
        AtGate{"PUT", asked("PUT", "/", with(ours, {{"content-length", "1"}})), 405},
        AtGate{"a method in small letters", asked("get", "/", ours), 405},
        AtGate{"the beginning of HTTP/2", asked("PRI", "*", ours, "HTTP/2.0"), 505},
        AtGate{"a proxy's address", asked("GET", "http://evil.example/", ours), 400},
        AtGate{"an address of no scheme", asked("GET", "//evil.example/", ours), 400},
        AtGate{"chunked", asked("POST", "/x", with(ours, {{"transfer-encoding", "chunked"}})), 501},
        AtGate{"chunked with a length beside it",
               asked("POST", "/x", with(ours, {{"transfer-encoding", "chunked"}, {"content-length", "4"}})), 501},
        AtGate{"two lengths that agree", asked("POST", "/x", with(ours, {{"content-length", "4"}, {"content-length", "4"}})), 400},
        AtGate{"two lengths that do not", asked("POST", "/x", with(ours, {{"content-length", "4"}, {"content-length", "5"}})), 400},
        AtGate{"a length below nothing", asked("POST", "/x", with(ours, {{"content-length", "-1"}})), 400},
        AtGate{"a length with a sign", asked("POST", "/x", with(ours, {{"content-length", "+4"}})), 400},
        AtGate{"a length in words", asked("POST", "/x", with(ours, {{"content-length", "four"}})), 400},
        AtGate{"no length", asked("POST", "/x", ours), 411},
        AtGate{"a body with a question", asked("GET", "/x", with(ours, {{"content-length", "4"}})), 400},
        AtGate{"an address without end", asked("GET", ("/" + std::string(2000, 'a')).c_str(), ours), 400}));

TEST(GateForFiles, TellsWhichBodiesAreLargerThanAnyOtherForm) {
  const GateRules rules{{}, 1000, {"/drawer/attach"}, 9000};
  const auto brings = [&](const char* target, const char* length) {
    return brings_file(asked("POST", target, {{"content-length", length}}), rules);
  };
  EXPECT_TRUE(brings("/drawer/attach", "1001"));
  EXPECT_FALSE(brings("/drawer/attach", "1000"));
  EXPECT_FALSE(brings("/cold/put", "1001"));
  EXPECT_FALSE(brings_file(asked("POST", "/drawer/attach", {}), rules));
}

}  // namespace
}  // namespace tierproof::web
