#pragma once

#include <stdlib.h>

#include <filesystem>
#include <string>

#include "tierproof/app/access.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "web/site.h"

namespace tierproof::web {

constexpr const char* test_pin = "740292";

/// A demo kitchen with an owner and a helper, opened as a site without a socket, and a browser with its cookies.
class KitchenOfPages {
 public:
  KitchenOfPages() {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-pages-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder = name;
    begun_at = parse_zoned("2026-05-01T10:00:00+01:00")->at;
    NewKitchen begun;
    begun.kitchen =
        Kitchen{"Kitchen by the Mill", {"4 Weir Walk", "Sampletown"}, "Europe/London", 40, {}, "gb", "gb-eng", "gb", true, "pages"};
    begun.owner_id = "ada";
    begun.owner_name = "Ada Example";
    Entrance entrance;
    entrance.kitchen_file = file();
    entrance.now = begun_at;
    entrance.device = "command line";
    packs = rule_packs();
    if (!begin_kitchen(entrance, begun, packs)) std::abort();
    entrance.person = "ada";
    Session session{entrance, packs, open_sqlite(file(), false)};
    if (!add_person(session, "ben", "Ben Sample", "helper")) std::abort();
    open();
  }
  ~KitchenOfPages() {
    site.reset();
    std::filesystem::remove_all(folder);
  }
  KitchenOfPages(const KitchenOfPages&) = delete;
  KitchenOfPages& operator=(const KitchenOfPages&) = delete;

  std::string file() const { return (folder / "kitchen.tierproof").string(); }
  void open() {
    site.reset();
    SiteSettings settings;
    settings.kitchen_file = file();
    settings.data = find_data();
    settings.packs = packs;
    settings.origins = {"127.0.0.1:8321"};
    settings.clock_from = begun_at;
    site = std::make_unique<Site>(std::move(settings));
  }

  WebAnswer ask(std::string method, std::string path, std::string body = "", Pairs headers = {}) {
    WebRequest request;
    request.method = std::move(method);
    const auto question = path.find('?');
    request.path = path.substr(0, question);
    if (question != std::string::npos) request.query = *parse_urlencoded(path.substr(question + 1));
    request.headers = std::move(headers);
    if (!request.headers.has("content-type")) request.headers.add("content-type", "application/x-www-form-urlencoded");
    request.headers.add("cookie", cookies);
    request.body = std::move(body);
    WebAnswer answer = site->answer(std::move(request));
    for (const auto& [name, value] : answer.headers) {
      if (name == "Set-Cookie") keep(value.substr(0, value.find(';')));
    }
    return answer;
  }
  WebAnswer get(const std::string& path) { return ask("GET", path); }
  /// Posts a form as a page would: with the token of the sign-in.
  WebAnswer post(const std::string& path, const std::string& fields) { return ask("POST", path, fields + "&token=" + form_token()); }

  void let_in() {
    const auto code = site->access().let_in(site->now());
    const auto answer = ask("POST", "/let-in", "code=" + url_part_of(code) + "&name=by+the+mixer");
    if (answer.status != 303) std::abort();
  }
  /// Lets the device in, if need be, and signs somebody in.
  void sign_in(const std::string& person) {
    if (cookies.empty()) let_in();
    if (!site->access().has_pin(person)) site->access().set_pin(person, test_pin, site->now());
    const auto answer = ask("POST", "/who", "person=" + person + "&pin=" + test_pin);
    if (answer.status != 303) std::abort();
  }
  std::string form_token() {
    const std::string page = get("/cupboard").body;
    const std::string before = "name=\"token\" value=\"";
    const auto at = page.find(before);
    return at == std::string::npos ? "" : page.substr(at + before.size(), page.find('"', at + before.size()) - at - before.size());
  }
  std::uint64_t notes() { return open_sqlite(file(), true)->head().size; }

  std::filesystem::path folder;
  std::shared_ptr<const RulePacks> packs;
  std::unique_ptr<Site> site;
  std::string cookies;
  Instant begun_at{};

 private:
  static std::string url_part_of(std::string text) {
    for (auto& c : text) c = c == ' ' ? '+' : c;
    return text;
  }
  void keep(const std::string& cookie) {
    const std::string name = cookie.substr(0, cookie.find('=') + 1);
    const auto old = cookies.find(name);
    if (old != std::string::npos) cookies.erase(old, std::min(cookies.find(';', old), cookies.size() - 1) - old + 1);
    cookies += (cookies.empty() ? "" : "; ") + cookie;
  }
};

}  // namespace tierproof::web
