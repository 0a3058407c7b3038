// Coming in: letting a device in, signing in by name and PIN, signing out, and what a page asks for by itself.
#include "signing_in.h"

#include <fmt/format.h>

#include "forms.h"
#include "routes.h"
#include "tierproof/app/permissions.h"
#include "tierproof/text/json.h"

namespace tierproof::web {
namespace {

std::string cookie_named(const Visit& visit, const char* name) { return std::string{visit.site.settings().tls ? "__Host-" : ""} + name; }

void set_cookie(WebAnswer& answer, const Visit& visit, const char* name, const std::string& value, const char* age) {
  answer.headers.emplace_back("Set-Cookie", fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict{}{}", cookie_named(visit, name), value,
                                                        visit.site.settings().tls ? "; Secure" : "", age));
}

constexpr const char* a_year = "; Max-Age=31536000";
constexpr const char* gone_now = "; Max-Age=0";

/// Where to go after signing in: a page of ours, never another site.
std::string safe_place(const std::string& to) {
  return to.size() > 1 && to.front() == '/' && to[1] != '/' && decoded_path(to) ? to : "/bench";
}

WebAnswer front_page(Visit& visit) { return redirect(visit.who ? "/bench" : "/who"); }

WebAnswer look(Visit& visit) {
  const auto* look = visit.site.look(visit.part);
  if (look == nullptr) return plain_answer(404, "there is no such file");
  WebAnswer answer{200, look->type, look->bytes, {}};
  answer.headers.emplace_back("Cache-Control", "public, max-age=31536000, immutable");
  return answer;
}

WebAnswer let_in_page(Visit& visit) {
  Html main =
      el("h1", {}, "Let this device in") +
      el("p", {},
         "The kitchen's machine shows a code when it opens these pages, and whenever an owner asks for one. It is good for ten minutes.");
  main += FormView{visit, "/let-in", "let-in"}
              .text("code", "Code", {.needed = true})
              .text("name", "What this device is called", {.hint = "Notes made on it say so: by the mixer, telephone", .needed = true})
              .finish("Let it in");
  return bare_page(visit, "Let this device in", main);
}

WebAnswer let_in(Visit& visit) {
  const auto enrolled = visit.site.access().enrol(visit.typed("code"), visit.typed("name"), visit.now);
  if (!enrolled) {
    visit.wrong = enrolled.error();
    return let_in_page(visit);
  }
  WebAnswer answer = redirect("/who");
  set_cookie(answer, visit, "device", enrolled->key, a_year);
  return answer;
}

WebAnswer who_page(Visit& visit) {
  const Session& records = visit.records();
  Choices people;
  for (const auto& [id, person] : records.state().people) {
    if (person.value.left && *person.value.left < records.today()) continue;
    people.push_back({id.text(), person.value.name.text.value_or(id.text())});
  }
  Html main = el("h1", {}, records.kitchen().name) + el("h2", {}, "Who is it?");
  std::string to = visit.request.query["to"];
  if (to.empty()) to = visit.typed("to");
  main += FormView{visit, "/who", "who"}
              .tiles("person", "Name", people, {.value = people.size() == 1 ? people.front().value : "", .needed = true})
              .pin("PIN")
              .hidden("to", safe_place(to))
              .finish("Come in");
  if (visit.device) main += el("p", {{"class", "hint"}}, fmt::format("This device is called \"{}\".", visit.device->name));
  return bare_page(visit, "Who is it?", main);
}

void refuse_pin(Visit& visit, const SignInRefused& refused) {
  std::string message = refused.message;
  if (refused.wait > Span{}) message += fmt::format("; another try counts in {}", format_span(refused.wait + std::chrono::seconds{1}));
  visit.refuse("pin", message, refused.remedy);
}

WebAnswer sign_in(Visit& visit) {
  const std::string& person = visit.typed("person");
  const auto authority = authority_of(visit.records().state(), person, visit.today());  // nothing: nobody who works here
  const auto done = visit.site.access().sign_in(*visit.device, authority ? person : "", visit.typed("pin"),
                                                authority.value_or(Authority::helper), visit.now);
  if (const auto* refused = std::get_if<SignInRefused>(&done)) {
    refuse_pin(visit, *refused);
    return who_page(visit);
  }
  WebAnswer answer = redirect(safe_place(visit.typed("to")));
  set_cookie(answer, visit, "here", std::get<std::string>(done), "");
  return answer;
}

WebAnswer leave(Visit& visit) {
  visit.site.access().sign_out(visit.token, visit.now);
  WebAnswer answer = redirect("/who");
  set_cookie(answer, visit, "here", "", gone_now);
  return answer;
}

/// An owner hands the tablet to an officer, who only reads.
WebAnswer for_officer(Visit& visit) {
  WebAnswer answer = redirect("/drawer");
  set_cookie(answer, visit, "here", visit.site.access().open_for_officer(*visit.who, visit.now), "");
  return answer;
}

/// What a page asks for every two seconds: whether it is still what the records say, and what is wrong now.
WebAnswer news(Visit& visit) {
  const auto news = visit.site.news();
  if (visit.site.kitchen_begun() && visit.now - news->made > std::chrono::minutes{1})
    return plain_answer(503, "the records could not be looked at for a minute");
  Json::Array troubles;
  for (const auto& words : news->troubles) troubles.emplace_back(words);
  const bool signed_in = visit.who.has_value();
  Json::Object told{{"head", Json{news->head}},
                    {"now", Json{static_cast<std::int64_t>(visit.now.time_since_epoch().count())}},
                    {"signed_in", Json{signed_in}},
                    {"troubles", Json{std::move(troubles)}}};  // of places, on a device that was let in: whoever is signed in
  if (signed_in) {
    told.emplace("person", Json{visit.who->person});
    told.emplace("token", Json{visit.who->form_token});
  }
  return {200, "application/json", write_canonical(Json{std::move(told)}) + "\n", {}};
}

}  // namespace

void know_visitor(Visit& visit) {
  Access& access = visit.site.access();
  visit.device = access.device_of(visit.request.cookies[cookie_named(visit, "device")], visit.now);
  if (!visit.device) return;
  visit.token = visit.request.cookies[cookie_named(visit, "here")];
  const bool news = visit.request.path == "/news";
  const bool by_itself = news || visit.request.headers.has("x-by-itself");  // the script asks, nobody is there
  if (!visit.token.empty()) visit.who = access.who(visit.token, *visit.device, visit.now, !by_itself);
  if (news || !visit.who || visit.who->person.empty() || !visit.site.kitchen_begun()) return;
  // The role counts as the records say it now, and who left is not here any more.
  const auto authority = authority_of(visit.records().state(), visit.who->person, visit.today());
  if (!authority) return visit.who.reset();
  visit.who->authority = *authority;
}

WebAnswer not_allowed(Visit& visit, bool owner_needed) {
  WebAnswer answer =
      page(visit, "Not with this sign-in", "",
           el("h1", {}, "Not with this sign-in") + el("p", {},
                                                      owner_needed ? "Only an owner of the kitchen can do this: ask one of them to sign in."
                                                                   : "Whoever reads the records for a visit cannot record anything."));
  answer.status = 403;
  return answer;
}

bool confirmed_by_pin(Visit& visit) {
  const auto refused = visit.site.access().confirm(*visit.who, visit.typed("pin"), visit.now);
  if (refused) refuse_pin(visit, *refused);
  return !refused;
}

std::vector<Route> door_routes() {
  return {{"GET", "/", For::device, front_page},        {"GET", "/look/*", For::anyone, look},
          {"GET", "/let-in", For::anyone, let_in_page}, {"POST", "/let-in", For::anyone, let_in},
          {"GET", "/who", For::device, who_page},       {"POST", "/who", For::device, sign_in},
          {"POST", "/leave", For::reader, leave},       {"POST", "/for-officer", For::owner, for_officer},
          {"GET", "/news", For::device, news}};
}

}  // namespace tierproof::web
