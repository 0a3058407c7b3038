#include "site.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "deeds.h"
#include "forms.h"
#include "multipart.h"
#include "signing_in.h"
#include "tierproof/app/glance.h"
#include "tierproof/log/tree.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr std::size_t most_idle = 4;
constexpr Span news_at_least_every = std::chrono::seconds{20};

Instant machine_clock() { return std::chrono::time_point_cast<Span>(std::chrono::system_clock::now()); }

/// Whether `path` is what a route names; `*` stands for one part, which is put into `part`.
bool fits(std::string_view pattern, std::string_view path, std::string& part) {
  while (!pattern.empty() || !path.empty()) {
    if (pattern.empty() || path.empty()) return false;
    const auto wanted = pattern.substr(0, pattern.find('/', 1));
    const auto given = path.substr(0, path.find('/', 1));
    if (wanted == "/*") {
      part = given.substr(1);
    } else if (wanted != given) {
      return false;
    }
    pattern.remove_prefix(wanted.size());
    path.remove_prefix(given.size());
  }
  return true;
}

bool same_secret(std::string_view a, std::string_view b) {
  unsigned char differs = a.size() == b.size() ? 0 : 1;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) differs |= static_cast<unsigned char>(a[i] ^ b[i]);
  return differs == 0;
}

/// Whether what is posted comes from a page of ours, as far as the browser tells.
bool from_our_page(const WebRequest& request, const std::vector<std::string>& origins) {
  const std::string& site = request.headers["sec-fetch-site"];
  if (!site.empty() && site != "same-origin" && site != "none") return false;
  const std::string& origin = request.headers["origin"];
  if (origin.empty()) return true;
  const std::string scheme = request.over_tls ? "https://" : "http://";
  return std::any_of(origins.begin(), origins.end(), [&](const std::string& host) { return ascii_lower(origin) == scheme + host; });
}

bool is_form(const WebRequest& request) {
  return ascii_lower(request.headers["content-type"]).starts_with("application/x-www-form-urlencoded");
}

bool takes_file(std::string_view path) {
  return std::any_of(deeds().begin(), deeds().end(), [&](const Deed& deed) {
    return deed.takes_file && (path == deed.path || path == std::string{"/api/v1"} + deed.path);
  });
}

bool of_the_api(const WebRequest& request) { return request.path.starts_with("/api/"); }

WebAnswer refused(const WebRequest& request, int status, const std::string& words) {
  if (!of_the_api(request)) {
    WebAnswer answer;
    answer.status = status;
    answer.body = document(
        el("meta", {{"charset", "utf-8"}}) + el("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}}) +
            el("title", {}, "Not done"),
        {{"class", "bare"}},
        el("main", {}, el("h1", {}, "Not done"), el("p", {}, words), el("p", {}, el("a", {{"href", "/"}}, "To the kitchen's pages"))));
    return answer;
  }
  return {status,
          "application/json",
          write_canonical(Json{Json::Object{{"schema", Json{"tierproof/failed/1"}}, {"message", Json{words}}}}) + "\n",
          {}};
}

const Route* route_for(const WebRequest& request, std::string& part, bool& known_path) {
  for (const auto& route : routes()) {
    std::string here;
    if (!fits(route.path, request.path, here)) continue;
    known_path = true;
    if (request.method != route.method) continue;
    part = std::move(here);
    return &route;
  }
  return nullptr;
}

}  // namespace

Site::Site(SiteSettings settings) : settings_{std::move(settings)}, opened_{machine_clock()} {
  for (const auto& [name, type] : {std::pair{"kitchen.css", "text/css; charset=utf-8"},
                                   std::pair{"kitchen.js", "text/javascript; charset=utf-8"}, std::pair{"kitchen.svg", "image/svg+xml"}}) {
    Look look{type, load_file(settings_.data.path + "/reports/pages/" + name), ""};
    look.digest = to_hex(sha256(look.bytes)).substr(0, 16);
    looks_.emplace(name, std::move(look));
  }
  if (kitchen_begun()) give_back(borrow());  // says at once what is wrong with the file
  access_ = Access::open(settings_.kitchen_file, true);
  news_ = std::make_shared<const News>();
  news_maker_ = std::thread{[this] { keep_news(); }};
}

Site::~Site() {
  {
    const std::lock_guard lock{news_mutex_};
    ending_ = true;
  }
  news_wanted_.notify_all();
  news_maker_.join();
}

Instant Site::now() const {
  const Instant by_machine = machine_clock();
  return settings_.clock_from ? *settings_.clock_from + (by_machine - opened_) : by_machine;
}

bool Site::kitchen_begun() const { return std::filesystem::exists(settings_.kitchen_file); }

bool Site::of_a_demo() {
  if (!kitchen_begun()) return false;
  auto session = borrow();
  const bool demo = session->kitchen().demo;
  give_back(std::move(session));
  return demo;
}

std::optional<std::string> Site::code_for_first_device() {
  if (!access_->devices().empty()) return std::nullopt;
  return access_->let_in(now());
}

const Site::Look* Site::look(const std::string& name) const {
  const auto found = looks_.find(name);
  return found == looks_.end() ? nullptr : &found->second;
}

Entrance Site::entrance(const std::string& person, const std::string& device) const {
  Entrance entrance;
  entrance.kitchen_file = settings_.kitchen_file;
  entrance.person = person;
  entrance.device = device;
  if (settings_.clock_from) entrance.now = now();
  return entrance;
}

std::unique_ptr<Session> Site::borrow() {
  std::unique_ptr<Session> session;
  {
    const std::lock_guard lock{idle_mutex_};
    if (!idle_.empty()) {
      session = std::move(idle_.back());
      idle_.pop_back();
    }
  }
  if (session == nullptr) return std::make_unique<Session>(entrance("", ""), settings_.packs, open_sqlite(settings_.kitchen_file, true));
  if (session->store().head() != session->head()) session->reload();
  if (settings_.clock_from) session->set_clock(now());
  return session;
}

void Site::give_back(std::unique_ptr<Session> session) {
  if (session == nullptr) return;
  const std::lock_guard lock{idle_mutex_};
  if (idle_.size() < most_idle) idle_.push_back(std::move(session));
}

std::shared_ptr<const News> Site::news() const {
  const std::lock_guard lock{news_mutex_};
  return news_;
}

void Site::something_booked() {
  {
    const std::lock_guard lock{news_mutex_};
    wanted_ = true;
  }
  news_wanted_.notify_all();
}

News Site::make_news(Session& session) const {
  News news;
  news.head = format_head(session.head());
  news.made = now();
  const ZonedInstant at{now(), session.offset_at(now())};
  if (const auto places = places_now(session, at)) {
    for (const auto& place : *places) {
      if (place.left_above)
        news.troubles.push_back(fmt::format("{}: {:.1f} °C at {}, {}, and not read since", place.name, place.last->read.to_celsius(),
                                            format_moment(place.last->at, session.offset_at(place.last->at)),
                                            words_of(ColdStanding::perhaps_above)));
      if (place.standing != ColdStanding::above && place.standing != ColdStanding::perhaps_above) continue;
      news.troubles.push_back(fmt::format("{}: {:.1f} °C at {}, {} ({:.0f} °C)", place.name, place.last->read.to_celsius(),
                                          format_clock(place.last->at, session.offset_at(place.last->at)), words_of(place.standing),
                                          place.limit->to_celsius()));
    }
  }
  const auto round = look_round(session, at);
  if (!round) {
    for (const auto& refusal : round.error()) news.troubles.push_back("Nobody can tell whether the cold is in order: " + refusal.message);
  } else {
    for (const auto& silent : round->silent)
      news.troubles.push_back(silent.silent ? fmt::format("{}: no temperature for {}", silent.words, format_span(*silent.silent))
                                            : fmt::format("{}: no temperature yet", silent.words));
  }
  return news;
}

void Site::keep_news() {
  std::unique_ptr<Session> session;
  std::unique_lock lock{news_mutex_};
  while (!ending_) {
    const bool wanted = std::exchange(wanted_, false);
    const News last = *news_;
    lock.unlock();
    std::shared_ptr<const News> fresh;
    try {
      if (session == nullptr && kitchen_begun()) session = borrow();
      if (session != nullptr) {
        const bool moved = session->store().head() != session->head();
        if (moved) session->reload();
        if (settings_.clock_from) session->set_clock(now());
        if (moved || wanted || last.head.empty() || now() - last.made >= news_at_least_every)
          fresh = std::make_shared<const News>(make_news(*session));
      }
    } catch (const std::exception& error) {
      session.reset();  // the pages themselves say what is wrong; what they show of now stays as old as it is
      std::fputs(fmt::format("the pages could not look at the records: {}\n", error.what()).c_str(), stderr);
    }
    lock.lock();
    if (fresh != nullptr) news_ = std::move(fresh);
    if (!ending_ && !wanted_) news_wanted_.wait_for(lock, std::chrono::milliseconds{500});
  }
}

std::optional<WebAnswer> Site::refuse_to_read(const WebRequest& head) {
  try {
    if (!from_our_page(head, settings_.origins)) return refused(head, 403, "this did not come from a page of this kitchen");
    WebRequest known = head;
    known.cookies = parse_cookies(head.headers["cookie"]);
    Visit visit{*this, known};
    know_visitor(visit);
    if (!visit.device) return refused(head, 403, "this device was not let in");
    if (!kitchen_begun()) return refused(head, 503, "The records are not there. Nothing was booked.");
    if (!visit.who) return refused(head, 401, "nobody is signed in here");
    if (!visit.may_record()) return refused(head, 403, "whoever reads the records for a visit cannot record anything");
    return std::nullopt;
  } catch (const std::exception& error) {
    std::fputs(fmt::format("{} {}: {}\n", head.method, head.path, error.what()).c_str(), stderr);
    return refused(head, 500, "The machine that keeps the records has a problem, and nothing was booked. What it is stands in its window.");
  }
}

WebAnswer Site::answer(WebRequest request) {
  try {
    std::string part;
    bool known_path = false;
    const Route* route = route_for(request, part, known_path);
    if (route == nullptr) return refused(request, known_path ? 405 : 404, known_path ? "this is not asked here" : "there is no such page");
    const bool posted = request.method == "POST";
    if (posted && route->who != For::sensor) {
      if (!from_our_page(request, settings_.origins)) return refused(request, 403, "this did not come from a page of this kitchen");
      if (is_multipart(request.headers["content-type"])) {
        if (!takes_file(request.path)) return refused(request, 415, "no file is taken here");
        auto form = parse_multipart(request.headers["content-type"], request.body);
        if (!form) return refused(request, 400, "Nothing was booked: " + told_here(form.error().front()));
        request.form = std::move(form->fields);
        request.file = std::move(form->file);
        request.body = {};
      } else if (is_form(request) && !of_the_api(request)) {
        auto form = parse_urlencoded(request.body);
        if (!form) return refused(request, 400, "the form cannot be read");
        request.form = std::move(*form);
      } else if (!of_the_api(request)) {
        return refused(request, 415, "post it as a form");
      }
    }
    request.cookies = parse_cookies(request.headers["cookie"]);
    Visit visit{*this, request};
    visit.part = std::move(part);
    if (route->who == For::anyone || route->who == For::sensor) return route->handle(visit);
    know_visitor(visit);
    if (!visit.device) return posted || of_the_api(request) ? refused(request, 403, "this device was not let in") : redirect("/let-in");
    if (!kitchen_begun() && !request.path.starts_with("/begin"))
      return posted || of_the_api(request) ? refused(request, 503, "The records are not there. Nothing was booked.") : redirect("/begin");
    if (route->who == For::device) return route->handle(visit);
    if (!visit.who)
      return posted || of_the_api(request) ? refused(request, 401, "nobody is signed in here")
                                           : redirect("/who?to=" + url_part(request.path));
    const bool allowed = route->who == For::reader || (route->who == For::recorder ? visit.may_record() : visit.is_owner());
    if (!allowed) {
      access_->note_refused(visit.device->id, visit.who->person, fmt::format("{} {}", request.method, request.path), visit.now);
      return of_the_api(request) ? refused(request, 403, "not with this sign-in") : not_allowed(visit, route->who == For::owner);
    }
    if (posted) {
      const std::string& token = of_the_api(request) ? request.headers["x-form-token"] : request.form["token"];
      if (!same_secret(token, visit.who->form_token))
        return refused(request, 403, "this form is of an earlier sign-in: open the page again");
    }
    return route->handle(visit);
  } catch (const Fault& fault) {
    std::fputs(fmt::format("{} {}: {}\n", request.method, request.path, fault.what()).c_str(), stderr);
    return fault.exit_status() == exit_status::try_later
               ? refused(request, 503, "Others were recording at the same time, and nothing was booked. Send it again.")
               : refused(request, 500,
                         "The machine that keeps the records has a problem, and nothing was booked. What it is stands in its window.");
  } catch (const std::exception& error) {
    std::fputs(fmt::format("{} {}: {}\n", request.method, request.path, error.what()).c_str(), stderr);
    return refused(request, 500, "Something went wrong in the program, and nothing was booked. What it is stands in its window.");
  }
}

std::vector<std::pair<std::string, std::string>> guarded(const WebAnswer& answer, bool tls) {
  std::vector<std::pair<std::string, std::string>> headers = answer.headers;
  const auto has = [&](std::string_view name) {
    return std::any_of(headers.begin(), headers.end(), [&](const auto& header) { return header.first == name; });
  };
  if (!has("Content-Security-Policy"))
    headers.emplace_back("Content-Security-Policy",
                         "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; "
                         "object-src 'none'; base-uri 'none'; frame-ancestors 'none'");
  headers.emplace_back("X-Content-Type-Options", "nosniff");
  headers.emplace_back("Referrer-Policy", "same-origin");
  headers.emplace_back("Cross-Origin-Opener-Policy", "same-origin");
  headers.emplace_back("Cross-Origin-Resource-Policy", "same-origin");
  if (tls) headers.emplace_back("Strict-Transport-Security", "max-age=31536000");
  if (!has("Cache-Control")) headers.emplace_back("Cache-Control", "no-store");
  return headers;
}

}  // namespace tierproof::web
