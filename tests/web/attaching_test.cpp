#include "tierproof/app/attaching.h"

#include <Poco/Net/NetException.h>
#include <Poco/Net/SocketAddress.h>
#include <Poco/Net/StreamSocket.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <chrono>
#include <fstream>
#include <thread>
#include <utility>

#include "imports/file_for_tests.h"
#include "kitchen_of_pages.h"
#include "tierproof/app/erasing.h"
#include "tierproof/text/json.h"
#include "tierproof/web/server.h"
#include "web/multipart.h"

namespace tierproof::web {
namespace {

using files_for_tests::jpeg;
using files_for_tests::pdf;
using files_for_tests::png;

const std::string type_of_parts = "multipart/form-data; boundary=----parts0123";

std::string a_text(const std::string& name, const std::string& value) {
  return "------parts0123\r\nContent-Disposition: form-data; name=\"" + name + "\"\r\n\r\n" + value + "\r\n";
}
std::string a_file(const std::string& bytes, const std::string& file_name = "IMG_0001.jpg", const std::string& type = "image/jpeg",
                   const std::string& name = "file") {
  return "------parts0123\r\nContent-Disposition: form-data; name=\"" + name + "\"; filename=\"" + file_name +
         "\"\r\nContent-Type: " + type + "\r\n\r\n" + bytes + "\r\n";
}
const std::string the_end = "------parts0123--\r\n";

TEST(Multipart, IsReadAsBrowsersPostIt) {
  const std::string bytes{"a\0\r\n--b\r\n\xff", 10};
  const auto form =
      parse_multipart(type_of_parts, a_text("shows", "die Tüte\r\n& more") + a_file(bytes) + a_text("about", "pack-1") + the_end);
  ASSERT_TRUE(form);
  EXPECT_EQ(form->fields["shows"], "die Tüte\n& more");
  EXPECT_EQ(form->fields["about"], "pack-1");
  ASSERT_TRUE(form->file);
  EXPECT_EQ(form->file->field, "file");
  EXPECT_EQ(form->file->bytes, bytes);
}

TEST(Multipart, AFieldInWhichNothingWasChosenIsNoFile) {
  const auto form = parse_multipart(type_of_parts, a_file("", "") + the_end);
  ASSERT_TRUE(form);
  EXPECT_FALSE(form->file);
}

TEST(Multipart, WhatDidNotComeWholeOrTwiceIsRefused) {
  std::string many;
  for (int i = 0; i < 41; ++i) many += a_text("a", "1");
  struct Sent {
    const char* what;
    std::string type;
    std::string body;
  };
  const std::string whole = a_text("about", "pack-1") + a_file(png());
  for (const auto& row :
       {Sent{"two files", type_of_parts, a_file(png()) + a_file(jpeg()) + the_end},
        Sent{"two files of two names", type_of_parts, a_file(png()) + a_file(jpeg(), "b", "b", "more") + the_end},
        Sent{"cut in the middle", type_of_parts, whole.substr(0, whole.size() - 10)}, Sent{"cut before the end", type_of_parts, whole},
        Sent{"the end of another part", type_of_parts, whole + "------parts0123\r\n"}, Sent{"nothing", type_of_parts, ""},
        Sent{"the end alone", type_of_parts, the_end}, Sent{"no boundary", "multipart/form-data", whole + the_end},
        Sent{"another boundary", "multipart/form-data; boundary=x", whole + the_end},
        Sent{"a boundary that is none", "multipart/form-data; boundary=\"a\x01\"", whole + the_end},
        Sent{"a boundary without end", "multipart/form-data; boundary=" + std::string(71, 'a'), whole + the_end},
        Sent{"words before it", type_of_parts, "hello\r\n" + whole + the_end},
        Sent{"a part without a name", type_of_parts, "------parts0123\r\n\r\nhello\r\n" + the_end},
        Sent{"no UTF-8", type_of_parts, a_text("shows", "\xff") + the_end},
        Sent{"U+0000", type_of_parts, a_text("shows", std::string{"a\0b", 3}) + the_end},
        Sent{"too many parts", type_of_parts, many + the_end},
        Sent{"too much text", type_of_parts, a_text("shows", std::string(70'000, 'a')) + the_end}})
    EXPECT_FALSE(parse_multipart(row.type, row.body)) << row.what;
}

/// A kitchen with a thermometer that pictures are attached to.
class Pictures : public testing::Test {
 protected:
  void SetUp() override {
    kitchen.sign_in("ada");
    ASSERT_EQ(kitchen.post("/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0.5&step=0.1").status, 303);
    const char* set = ::getenv("TMPDIR");
    if (set != nullptr) tmpdir = set;
    passing = kitchen.folder / "passing";
    std::filesystem::create_directory(passing);
    ::setenv("TMPDIR", passing.c_str(), 1);
  }
  void TearDown() override {
    EXPECT_TRUE(std::filesystem::is_empty(passing)) << "what was sent is not left behind";
    tmpdir ? ::setenv("TMPDIR", tmpdir->c_str(), 1) : ::unsetenv("TMPDIR");
  }
  static Pairs with_type(const std::string& type) {
    Pairs headers;
    headers.add("content-type", type);
    return headers;
  }
  std::string form(const std::string& bytes, const std::string& about = "fork", const std::string& shows = "its leaflet") {
    return a_text("form", "attach") + a_text("token", kitchen.form_token()) + a_text("about", about) + a_text("shows", shows) +
           a_file(bytes) + the_end;
  }
  WebAnswer sent(const std::string& body, const std::string& to = "/drawer/attach") {
    return kitchen.ask("POST", to, body, with_type(type_of_parts));
  }
  static std::string header(const WebAnswer& answer, const std::string& name) {
    std::string all;
    for (const auto& [key, value] : guarded(answer, false)) all += key == name ? value + "|" : "";
    return all;
  }
  KitchenOfPages kitchen;
  std::filesystem::path passing;
  std::optional<std::string> tmpdir;
};

TEST_F(Pictures, AreShownWhereTheyWereAttachedWithWhatTheyShowWhenAndByWhom) {
  const auto before = kitchen.get("/drawer/attached/fork");
  EXPECT_EQ(before.status, 200);
  EXPECT_NE(before.body.find("enctype=\"multipart/form-data\""), std::string::npos);
  EXPECT_NE(before.body.find("Nothing is attached yet."), std::string::npos);
  const auto answer = sent(form(png(), "fork", "its <b>leaflet</b>"));
  ASSERT_EQ(answer.status, 303) << answer.body;
  const std::string note = std::to_string(kitchen.notes());
  EXPECT_EQ(header(answer, "Location"), "/drawer/attached/fork?booked=" + note + "|");
  const auto page = kitchen.get("/drawer/attached/fork").body;
  EXPECT_NE(page.find("<img src=\"/drawer/file/" + note + "\" alt=\"its &lt;b&gt;leaflet&lt;/b&gt;\""), std::string::npos) << page;
  EXPECT_NE(page.find("by ada"), std::string::npos);
  EXPECT_NE(page.find("1 May 2026"), std::string::npos);
  EXPECT_NE(kitchen.get("/cold/check/fork").body.find("Pictures and papers (1)"), std::string::npos);
  EXPECT_NE(kitchen.get("/drawer/note/" + note).body.find("What it attached"), std::string::npos);
}

TEST_F(Pictures, EachIsOpenedAtItsOwnAddressAndCanLoadAndRunNothing) {
  ASSERT_EQ(sent(form(jpeg())).status, 303);
  const auto picture = kitchen.get("/drawer/file/" + std::to_string(kitchen.notes()));
  EXPECT_EQ(picture.status, 200);
  EXPECT_EQ(picture.type, "image/jpeg");
  EXPECT_EQ(picture.body, jpeg());
  EXPECT_EQ(header(picture, "Content-Security-Policy"), "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'|");
  EXPECT_EQ(header(picture, "X-Content-Type-Options"), "nosniff|");
  EXPECT_EQ(header(picture, "Cache-Control"), "no-store|");
  EXPECT_EQ(header(picture, "Content-Disposition"), "inline; filename=\"note-" + std::to_string(kitchen.notes()) + ".jpg\"|");
  ASSERT_EQ(sent(form(pdf())).status, 303);
  const auto paper = kitchen.get("/drawer/file/" + std::to_string(kitchen.notes()));
  EXPECT_EQ(paper.type, "application/pdf");
  EXPECT_TRUE(header(paper, "Content-Disposition").starts_with("attachment;"));
}

TEST_F(Pictures, AreForWhoeverMayReadAndForNobodyElse) {
  ASSERT_EQ(sent(form(png())).status, 303);
  const std::string at = "/drawer/file/" + std::to_string(kitchen.notes());
  const std::string signed_in = std::exchange(kitchen.cookies, "");
  EXPECT_EQ(kitchen.get(at).status, 303);
  EXPECT_EQ(kitchen.get(at).body.find("PNG"), std::string::npos);
  EXPECT_EQ(sent(form(png())).status, 403);
  kitchen.cookies = signed_in;
  ASSERT_EQ(kitchen.ask("POST", "/for-officer", "token=" + kitchen.form_token()).status, 303);
  EXPECT_EQ(kitchen.get(at).status, 200);
  EXPECT_EQ(kitchen.get("/drawer/attached/fork").body.find("type=\"file\""), std::string::npos);
  const auto before = kitchen.notes();
  EXPECT_EQ(sent(form(png())).status, 403);
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(Pictures, WhatIsGoneSaysSo) {
  ASSERT_EQ(sent(form(png())).status, 303);
  const std::string note = std::to_string(kitchen.notes());
  std::string place;
  {
    const auto session = kitchen.site->borrow();
    place = attached_to(*session, note)->front().place;
  }
  std::ofstream{place, std::ios::binary | std::ios::app} << "one byte more";
  EXPECT_EQ(kitchen.get("/drawer/file/" + note).status, 404);
  std::filesystem::remove(place);
  const auto page = kitchen.get("/drawer/attached/fork");
  EXPECT_NE(page.body.find("is missing"), std::string::npos);
  EXPECT_EQ(page.body.find("<img"), std::string::npos);
  const auto missing = kitchen.get("/drawer/file/" + note);
  EXPECT_EQ(missing.status, 404);
  EXPECT_NE(missing.body.find("is missing"), std::string::npos);
  for (const char* none :
       {"/drawer/file/9999", "/drawer/file/1", "/drawer/file/kitchen.tierproof", "/drawer/attached/nothing", "/drawer/attached/9999"})
    EXPECT_EQ(kitchen.get(none).status, 404) << none;
  ASSERT_EQ(kitchen.post("/drawer/take-back", "note=" + note + "&why=another+thermometer").status, 303);
  EXPECT_EQ(kitchen.get("/drawer/file/" + note).status, 404);
}

TEST_F(Pictures, WhatWasErasedSaysByWhichNote) {
  ASSERT_EQ(kitchen
                .post("/leaving/new",
                      "name=Sponge&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=not+asked")
                .status,
            303);
  ASSERT_EQ(sent(form(png(), "cake-1", "Ada with the cake")).status, 303);
  const std::string note = std::to_string(kitchen.notes());
  EXPECT_NE(kitchen.get("/leaving/cake/cake-1").body.find("Pictures and papers (1)"), std::string::npos);
  {
    Entrance later = kitchen.site->entrance("ada", "command line");
    later.now = parse_zoned("2026-05-03T08:00:00+01:00")->at;
    Session session{later, kitchen.packs, open_sqlite(kitchen.file(), false)};
    ASSERT_TRUE(erase_customer(session, {"cake-1", "the customer asked"}));
  }
  const std::string words = "was erased by note " + std::to_string(kitchen.notes());
  const auto page = kitchen.get("/drawer/attached/cake-1");
  EXPECT_NE(page.body.find(words), std::string::npos);
  EXPECT_EQ(page.body.find("Ada with the cake"), std::string::npos);
  const auto file = kitchen.get("/drawer/file/" + note);
  EXPECT_EQ(file.status, 410);
  EXPECT_NE(file.body.find(words), std::string::npos);
}

TEST_F(Pictures, BelongToANoteAsWellAsToAThing) {
  ASSERT_EQ(kitchen.post("/cold/new", "name=cake+fridge&kind=fridge").status, 303);
  const std::string note = std::to_string(kitchen.notes());
  ASSERT_EQ(sent(form(png(), note, "the door")).status, 303);
  EXPECT_NE(kitchen.get("/drawer/note/" + note).body.find("Pictures and papers (1)"), std::string::npos);
  EXPECT_NE(kitchen.get("/drawer/attached/" + note).body.find("the door"), std::string::npos);
  EXPECT_NE(kitchen.get("/cold/place/cake-fridge").body.find("href=\"/drawer/attached/cake-fridge\""), std::string::npos);
}

TEST_F(Pictures, AreBookedOnceHoweverOftenTheyAreSent) {
  const auto before = kitchen.notes();
  const std::string body = a_text("key", "dddddddddddddddddddd") + form(png());
  EXPECT_EQ(sent(body).status, 303);
  EXPECT_EQ(sent(body).status, 303);
  EXPECT_EQ(kitchen.notes(), before + 1);
}

// Hostile rows: what is sent, how it is answered, and what the answer says; nothing of it is booked or kept.
TEST_F(Pictures, HostileFormsBookNothing) {
  const std::string token = kitchen.form_token();
  const std::string start = a_text("form", "attach") + a_text("token", token) + a_text("about", "fork") + a_text("shows", "its leaflet");
  const std::string html = "<!doctype html><script>alert(1)</script>";
  const std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" onload=\"alert(1)\"/>";
  std::string whole = start + a_file(png());
  struct Sent {
    const char* what;
    std::string to;
    std::string body;
    int status;
    const char* says;
  };
  const std::string here = "/drawer/attach";
  for (const auto& row :
       {Sent{"a wrong token", here, a_text("token", "wrong") + a_text("about", "fork") + a_text("shows", "x") + a_file(png()) + the_end,
             403, "earlier sign-in"},
        Sent{"no token", here, a_text("about", "fork") + a_text("shows", "x") + a_file(png()) + the_end, 403, "earlier sign-in"},
        Sent{"two files", here, start + a_file(png()) + a_file(jpeg()) + the_end, 400, "one file at a time"},
        Sent{"a truncated part", here, whole.substr(0, whole.size() - 20), 400, "did not come whole"},
        Sent{"HTML named as a picture", here, start + a_file(html, "cake.jpg") + the_end, 422, "s no JPEG, PNG or WebP picture"},
        Sent{"SVG named as a picture", here, start + a_file(svg, "cake.png", "image/png") + the_end, 422, "s no JPEG, PNG or WebP picture"},
        Sent{"a picture that was cut short", here, start + a_file(png().substr(0, png().size() - 8)) + the_end, 422, "attach-file-wrong"},
        Sent{"an empty file", here, start + a_file("", "empty.jpg") + the_end, 422, "attach-file-wrong"},
        Sent{"no file", here, start + the_end, 422, "attach-file-wrong"},
        Sent{"a file of another name", here, start + a_file(png(), "a.png", "image/png", "picture") + the_end, 422, "attach-file-wrong"},
        Sent{"one that is too large", here, start + a_file(files_for_tests::pdf_of(10'000'001)) + the_end, 422, "larger than 10 MB"},
        Sent{"a claim", here, form(png(), "fork", "safe for everybody"), 422, "attach-shows-wrong"},
        Sent{"no words", here, form(png(), "fork", ""), 422, "attach-shows-wrong"},
        Sent{"nothing of this name", here, form(png(), "../kitchen"), 404, "Nothing of this name"},
        Sent{"a file elsewhere", "/cold/new", a_text("token", token) + a_text("name", "x") + a_text("kind", "fridge") + the_end, 415,
             "no file is taken here"}}) {
    const auto before = kitchen.notes();
    const auto answer = sent(row.body, row.to);
    EXPECT_EQ(answer.status, row.status) << row.what;
    EXPECT_NE(answer.body.find(row.says), std::string::npos) << row.what << "\n" << answer.body.substr(0, 3000);
    EXPECT_EQ(answer.body.find("tierproof-sent"), std::string::npos) << row.what << ": where it lay is nobody's business";
    EXPECT_EQ(kitchen.notes(), before) << row.what;
    EXPECT_FALSE(std::filesystem::exists(folder_of_attached(kitchen.file())) &&
                 !std::filesystem::is_empty(folder_of_attached(kitchen.file())))
        << row.what;
  }
}

TEST_F(Pictures, AScriptSendsTheSameForm) {
  Pairs headers = with_type(type_of_parts);
  headers.add("x-form-token", kitchen.form_token());
  const std::string body = a_text("about", "fork") + a_text("shows", "its leaflet") + a_file(png()) + the_end;
  EXPECT_EQ(sent(body, "/api/v1/drawer/attach").status, 403) << "without its token";
  const auto answer = kitchen.ask("POST", "/api/v1/drawer/attach", body, headers);
  EXPECT_EQ(answer.status, 200) << answer.body;
  EXPECT_NE(answer.body.find("\"subjects\":[\"fork\"]"), std::string::npos);
  const auto unknown = kitchen.ask("POST", "/api/v1/drawer/attach", a_text("colour", "white") + body, headers);
  EXPECT_EQ(unknown.status, 422);
  EXPECT_NE(unknown.body.find("colour"), std::string::npos);
  Pairs json = with_type("application/json");
  json.add("x-form-token", kitchen.form_token());
  const auto none = kitchen.ask("POST", "/api/v1/drawer/attach", R"({"about": "fork", "shows": "x"})", json);
  EXPECT_EQ(none.status, 422);
  EXPECT_NE(none.body.find("multipart/form-data"), std::string::npos);
}

/// The same at a port, where bodies are read.
class PicturesAtAPort : public Pictures {
 protected:
  void SetUp() override {
    Pictures::SetUp();
    token = kitchen.form_token();
    kitchen.site.reset();
    Serving serving;
    serving.kitchen_file = kitchen.file();
    serving.port = 0;
    serving.now = kitchen.begun_at;
    pages = std::make_unique<OpenPages>(serving, find_data(), kitchen.packs);
    host = pages->url().substr(7, pages->url().size() - 8);
  }
  void TearDown() override {
    pages.reset();
    Pictures::TearDown();
  }
  std::unique_ptr<Poco::Net::StreamSocket> socket() {
    auto open = std::make_unique<Poco::Net::StreamSocket>(Poco::Net::SocketAddress{host});
    open->setReceiveTimeout(Poco::Timespan{20, 0});
    open->setSendTimeout(Poco::Timespan{20, 0});
    return open;
  }
  std::string head(const std::string& path, std::size_t length, const std::string& cookies) const {
    return "POST " + path + " HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\nCookie: " + cookies +
           "\r\nContent-Type: " + type_of_parts + "\r\nContent-Length: " + std::to_string(length) + "\r\n\r\n";
  }
  static void send(Poco::Net::StreamSocket& to, const std::string& bytes) {
    for (std::size_t at = 0; at < bytes.size();)
      at += static_cast<std::size_t>(to.sendBytes(bytes.data() + at, static_cast<int>(std::min<std::size_t>(bytes.size() - at, 1 << 16))));
  }
  static std::string rest(Poco::Net::StreamSocket& from) {
    std::string all;
    char part[4096];
    try {
      for (int count; (count = from.receiveBytes(part, sizeof part)) > 0;) all.append(part, static_cast<std::size_t>(count));
    } catch (const Poco::Exception&) {
      all += "(cut)";
    }
    return all;
  }
  /// A form of about so many bytes.
  std::string large_form(std::size_t bytes) const {
    return a_text("form", "attach") + a_text("token", token) + a_text("about", "fork") + a_text("shows", "its leaflet") +
           a_file(files_for_tests::pdf_of(bytes)) + the_end;
  }
  std::string asked(const std::string& path, const std::string& body, const std::string& cookies) {
    auto open = socket();
    try {
      send(*open, head(path, body.size(), cookies));
      send(*open, body);
    } catch (const Poco::Exception&) {  // it was refused before it was sent whole
    }
    return rest(*open);
  }

  std::string token;
  std::unique_ptr<OpenPages> pages;
  std::string host;
};

TEST_F(PicturesAtAPort, OfTenMegabytesComeInFromSomebodyWhoSignedIn) {
  const auto before = kitchen.notes();
  const std::string answer = asked("/drawer/attach", large_form(10'000'000), kitchen.cookies);
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 303 ")) << answer.substr(0, 500);
  EXPECT_EQ(kitchen.notes(), before + 1);
  const std::string more = asked("/drawer/attach", large_form(10'000'001), kitchen.cookies);
  EXPECT_TRUE(more.starts_with("HTTP/1.1 422 ")) << more.substr(0, 500);
  EXPECT_NE(more.find("larger than 10 MB"), std::string::npos) << "on the page, in words";
}

TEST_F(PicturesAtAPort, ALargeBodyIsReadForNobodyElseAndNowhereElse) {
  const std::string body = large_form(2'000'000);
  const auto before = kitchen.notes();
  const auto device_alone = kitchen.cookies.substr(0, kitchen.cookies.find(';'));
  ASSERT_TRUE(device_alone.starts_with("device="));
  struct Sent {
    const char* what;
    std::string path;
    std::string cookies;
    const char* begins;
  };
  for (const auto& row :
       {Sent{"no sign-in", "/drawer/attach", "", "HTTP/1.1 403"}, Sent{"a device alone", "/drawer/attach", device_alone, "HTTP/1.1 401"},
        Sent{"a sign-in of nobody", "/drawer/attach", device_alone + "; here=0123456789abcdef", "HTTP/1.1 401"},
        Sent{"a script without one", "/api/v1/drawer/attach", "", "HTTP/1.1 403"},
        Sent{"elsewhere", "/drawer/take-back", kitchen.cookies, "HTTP/1.1 413"},
        Sent{"the same address in codes", "/drawer/%61ttach", kitchen.cookies, "HTTP/1.1 413"},
        Sent{"below it", "/drawer/attach/x", kitchen.cookies, "HTTP/1.1 413"}}) {
    auto open = socket();
    send(*open, head(row.path, body.size(), row.cookies));
    open->shutdownSend();  // nothing of the body is sent, so that an answer shows that nothing of it was waited for
    const std::string answer = rest(*open);
    EXPECT_TRUE(answer.starts_with(row.begins)) << row.what << ": " << answer.substr(0, 200);
  }
  auto open = socket();
  send(*open, head("/drawer/attach", 16'000'001, kitchen.cookies));
  EXPECT_TRUE(rest(*open).starts_with("HTTP/1.1 413"));
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(PicturesAtAPort, WhoIsNotSignedInAnyMoreSeesTheAnswerAndNoBrokenConnection) {
  const std::string answer = asked("/drawer/attach", large_form(8'000'000), "");
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 403 ")) << answer.substr(0, 200);
  EXPECT_EQ(answer.find("(cut)"), std::string::npos);
}

TEST_F(PicturesAtAPort, OnlyAFewAreHeldAtOnceAndOthersAreToldToComeAgain) {
  const std::string body = large_form(1'000'000);
  std::vector<std::unique_ptr<Poco::Net::StreamSocket>> slow;
  for (int i = 0; i < 3; ++i) {
    slow.push_back(socket());
    send(*slow.back(), head("/drawer/attach", body.size(), kitchen.cookies) + body.substr(0, 1000));
  }
  std::this_thread::sleep_for(std::chrono::seconds{1});  // until the three are being read: nothing tells so
  const std::string answer = asked("/drawer/attach", body, kitchen.cookies);
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 503 ")) << answer.substr(0, 200);
  EXPECT_NE(answer.find("Retry-After: 10"), std::string::npos);
  auto page = socket();
  send(*page, "GET /let-in HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n");
  EXPECT_TRUE(rest(*page).starts_with("HTTP/1.1 200 ")) << "pages go on";
  const auto before = kitchen.notes();
  for (auto& one : slow) {
    send(*one, body.substr(1000));
    EXPECT_TRUE(rest(*one).starts_with("HTTP/1.1 303 ")) << "those that were held are booked";
  }
  EXPECT_EQ(kitchen.notes(), before + 3);
  EXPECT_TRUE(asked("/drawer/attach", body, kitchen.cookies).starts_with("HTTP/1.1 303 ")) << "there is room again";
}

}  // namespace
}  // namespace tierproof::web
