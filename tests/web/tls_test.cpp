#include <Poco/Net/Context.h>
#include <Poco/Net/NetSSL.h>
#include <Poco/Net/SecureStreamSocket.h>
#include <Poco/Net/SocketAddress.h>
#include <gtest/gtest.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/ssl.h>
#include <openssl/x509.h>

#include <algorithm>
#include <chrono>
#include <cstring>
#include <fstream>
#include <memory>

#include "kitchen_of_pages.h"
#include "tierproof/web/server.h"

namespace tierproof::web {
namespace {

using namespace std::chrono_literals;

/// A key and a certificate that it signed itself, good from now for an hour.
class OwnCertificate {
 public:
  explicit OwnCertificate(const std::filesystem::path& folder, const std::string& name, const char* passphrase = nullptr)
      : certificate{(folder / (name + ".pem")).string()}, key{(folder / (name + ".key")).string()} {
    const std::unique_ptr<EVP_PKEY, decltype(&EVP_PKEY_free)> pair{EVP_EC_gen("P-256"), EVP_PKEY_free};
    const std::unique_ptr<X509, decltype(&X509_free)> made{X509_new(), X509_free};
    ASN1_INTEGER_set(X509_get_serialNumber(made.get()), 1);
    X509_gmtime_adj(X509_getm_notBefore(made.get()), 0);
    X509_gmtime_adj(X509_getm_notAfter(made.get()), 3600);
    X509_set_pubkey(made.get(), pair.get());
    X509_NAME* subject = X509_get_subject_name(made.get());
    X509_NAME_add_entry_by_txt(subject, "CN", MBSTRING_ASC, reinterpret_cast<const unsigned char*>("127.0.0.1"), -1, -1, 0);
    X509_set_issuer_name(made.get(), subject);
    if (X509_sign(made.get(), pair.get(), EVP_sha256()) == 0) std::abort();
    const auto close = [](std::FILE* file) { std::fclose(file); };
    const std::unique_ptr<std::FILE, decltype(close)> certificate_file{std::fopen(certificate.c_str(), "w"), close};
    const std::unique_ptr<std::FILE, decltype(close)> key_file{std::fopen(key.c_str(), "w"), close};
    if (PEM_write_X509(certificate_file.get(), made.get()) == 0) std::abort();
    const auto* words = reinterpret_cast<const unsigned char*>(passphrase);
    const int length = passphrase == nullptr ? 0 : static_cast<int>(std::strlen(passphrase));
    if (PEM_write_PrivateKey(key_file.get(), pair.get(), passphrase == nullptr ? nullptr : EVP_aes_128_cbc(), words, length, nullptr,
                             nullptr) == 0)
      std::abort();
  }
  const std::string certificate;
  const std::string key;
};

/// The pages of a kitchen at a port of their own, over TLS.
class OverTls : public testing::Test {
 protected:
  void SetUp() override {
    kitchen.site.reset();
    const OwnCertificate own{kitchen.folder, "kitchen"};
    serving.kitchen_file = kitchen.file();
    serving.port = 0;
    serving.now = kitchen.begun_at;
    serving.certificate = own.certificate;
    serving.certificate_key = own.key;
  }
  void open() {
    pages = std::make_unique<OpenPages>(serving, find_data(), kitchen.packs);
    host = pages->url().substr(8, pages->url().size() - 9);
  }
  /// What a browser is set to: it trusts this certificate without asking who signed it.
  static Poco::Net::Context::Ptr browser() {
    Poco::Net::initializeSSL();
    return new Poco::Net::Context{Poco::Net::Context::TLS_CLIENT_USE, "", "",    "",
                                  Poco::Net::Context::VERIFY_NONE,    9,  false, "DEFAULT:@SECLEVEL=0"};
  }
  /// Asks over TLS and gives all that comes until the connection ends, or `(no handshake)`.
  std::string ask(const Poco::Net::Context::Ptr& context, const std::string& line, const std::string& more = "") {
    std::string all;
    try {
      Poco::Net::SecureStreamSocket socket{Poco::Net::SocketAddress{host}, context};
      socket.setReceiveTimeout(Poco::Timespan{20, 0});
      const std::string bytes = line + " HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n" + more;
      socket.sendBytes(bytes.data(), static_cast<int>(bytes.size()));
      char part[4096];
      for (int count; (count = socket.receiveBytes(part, sizeof part)) > 0;) all.append(part, static_cast<std::size_t>(count));
    } catch (const Poco::Exception& error) {
      if (all.empty()) return "(no handshake) " + error.displayText();
    }
    return all;
  }
  int refused() {
    try {
      open();
      return 0;
    } catch (const Fault& fault) {
      told = fault.what();
      return fault.exit_status();
    }
  }

  KitchenOfPages kitchen;
  Serving serving;
  std::unique_ptr<OpenPages> pages;
  std::string host;
  std::string told;
};

TEST_F(OverTls, APageTellsBrowsersToStayWithItAndItsCookiesNeverGoInPlain) {
  open();
  EXPECT_TRUE(pages->url().starts_with("https://127.0.0.1:")) << pages->url();
  ASSERT_FALSE(pages->to_tell().empty());
  const std::string& words = pages->to_tell().back();
  EXPECT_NE(words.find("Open https://"), std::string::npos) << words;
  const std::string page = ask(browser(), "GET /let-in", "\r\n");
  EXPECT_TRUE(page.starts_with("HTTP/1.1 200 ")) << page.substr(0, 200);
  EXPECT_NE(page.find("Strict-Transport-Security: max-age=31536000"), std::string::npos);
  EXPECT_EQ(page.find("NOT ENCRYPTED"), std::string::npos);
  std::string code = words.substr(words.rfind(": ") + 2);
  std::replace(code.begin(), code.end(), ' ', '+');
  const std::string form = "code=" + code + "&name=by+the+mixer";
  const std::string head = "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: " + std::to_string(form.size()) + "\r\n";
  EXPECT_TRUE(ask(browser(), "POST /let-in", head + "Origin: http://" + host + "\r\n\r\n" + form).starts_with("HTTP/1.1 403 "))
      << "a page in plain is none of ours";
  const std::string in = ask(browser(), "POST /let-in", head + "Origin: https://" + host + "\r\n\r\n" + form);
  EXPECT_TRUE(in.starts_with("HTTP/1.1 303 ")) << in.substr(0, 300);
  const auto cookie = in.find("Set-Cookie: __Host-device=");
  ASSERT_NE(cookie, std::string::npos) << in;
  EXPECT_NE(in.substr(cookie, in.find("\r\n", cookie) - cookie).find("; Secure"), std::string::npos);
}

TEST_F(OverTls, OlderVersionsOfItAreRefused) {
  open();
  const auto at_most = [](int without) {
    auto context = browser();
    context->disableProtocols(without);
    return context;
  };
  using Poco::Net::Context;
  EXPECT_TRUE(ask(at_most(Context::PROTO_TLSV1_3), "GET /let-in", "\r\n").starts_with("HTTP/1.1 200 ")) << "TLS 1.2 is spoken";
  EXPECT_TRUE(ask(at_most(Context::PROTO_TLSV1 | Context::PROTO_TLSV1_1 | Context::PROTO_TLSV1_2), "GET /let-in", "\r\n")
                  .starts_with("HTTP/1.1 200 "))
      << "TLS 1.3 is spoken";
  for (const int without :
       {Context::PROTO_TLSV1_2 | Context::PROTO_TLSV1_3, Context::PROTO_TLSV1_1 | Context::PROTO_TLSV1_2 | Context::PROTO_TLSV1_3}) {
    const std::string answer = ask(at_most(without), "GET /let-in", "\r\n");
    EXPECT_TRUE(answer.starts_with("(no handshake)")) << answer.substr(0, 200);
    EXPECT_NE(answer.find("version"), std::string::npos) << "for its version, and nothing else: " << answer;
  }
}

TEST_F(OverTls, WhoSpeaksInPlainGetsNothing) {
  open();
  Poco::Net::StreamSocket plain{Poco::Net::SocketAddress{host}};
  plain.setReceiveTimeout(Poco::Timespan{20, 0});
  const std::string bytes = "GET /let-in HTTP/1.1\r\nHost: " + host + "\r\n\r\n";
  plain.sendBytes(bytes.data(), static_cast<int>(bytes.size()));
  std::string all;
  char part[512];
  try {
    for (int count; (count = plain.receiveBytes(part, sizeof part)) > 0;) all.append(part, static_cast<std::size_t>(count));
  } catch (const Poco::Exception&) {  // it was ended
  }
  EXPECT_EQ(all.find("HTTP/"), std::string::npos) << all;
}

TEST_F(OverTls, ACertificateThatCannotBeUsedIsAFaultOfTheSettings) {
  const std::string good = serving.certificate;
  const std::string other = OwnCertificate{kitchen.folder, "other"}.key;
  const std::string none = (kitchen.folder / "none.pem").string();
  const std::string words = (kitchen.folder / "words.pem").string();
  std::ofstream{words} << "no certificate\n";
  const std::string locked = OwnCertificate{kitchen.folder, "locked", "a passphrase"}.key;
  struct Given {
    const char* what;
    std::string certificate;
    std::string key;
  };
  for (const auto& row : {Given{"no such certificate", none, serving.certificate_key}, Given{"no such key", good, none},
                          Given{"words for a certificate", words, serving.certificate_key}, Given{"words for a key", good, words},
                          Given{"the key of another certificate", good, other},
                          Given{"a key under a passphrase", (kitchen.folder / "locked.pem").string(), locked}}) {
    serving.certificate = row.certificate;
    serving.certificate_key = row.key;
    EXPECT_EQ(refused(), exit_status::configuration) << row.what;
    EXPECT_NE(told.find(row.certificate), std::string::npos) << row.what << ": " << told;
  }
}

TEST_F(OverTls, TwoHundredConnectionsThatNeverBeginTheirHandshakeDoNotStopAPage) {
  open();
  std::vector<std::unique_ptr<Poco::Net::StreamSocket>> idle;
  const std::string beginning{"\x16\x03\x01\x02\x00\x01", 6};  // of a handshake that never goes on
  for (std::size_t i = 0; i < 200; ++i) {
    idle.push_back(std::make_unique<Poco::Net::StreamSocket>(Poco::Net::SocketAddress{host}));
    try {
      if (i % 2 == 0) idle.back()->sendBytes(beginning.data(), static_cast<int>(beginning.size()));
    } catch (const Poco::Exception&) {  // it was told to go
    }
  }
  for (int round = 0; round < 3; ++round) {
    const auto began = std::chrono::steady_clock::now();
    const std::string answer = ask(browser(), "GET /let-in", "\r\n");
    const auto took = std::chrono::steady_clock::now() - began;
    EXPECT_TRUE(answer.starts_with("HTTP/1.1 200 ")) << answer.substr(0, 200);
    EXPECT_LT(took, 2s) << "those that wait hold their threads for 6 s where nobody makes room";
  }
}

}  // namespace
}  // namespace tierproof::web
