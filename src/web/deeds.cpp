#include "deeds.h"

#include <fmt/format.h>

#include "tierproof/text/json.h"

namespace tierproof::web {
namespace {

WebAnswer json_answer(int status, Json::Object members) {
  return {status, "application/json", write_canonical(Json{std::move(members)}) + "\n", {}};
}

/// The fields of a script's JSON object as those of a form: texts, whole numbers, true as `yes`, and lists of these.
bool take_fields(WebRequest& request, Refusals& wrong) {
  const auto body = parse_json(request.body, "body");
  if (!body) {
    wrong = body.error();
    return false;
  }
  const auto refuse = [&](const std::string& field) {
    wrong.push_back({"", 0, field, "is no text, whole number, yes or no, or list of these", "write it as a text"});
  };
  if (!body->is_object()) {
    wrong.push_back({"body", 1, "", "is not an object", "write the fields as one JSON object"});
    return false;
  }
  const auto add = [&](const std::string& name, const Json& value) {
    if (value.is_text()) {
      request.form.add(name, value.text());
    } else if (value.is_integer()) {
      request.form.add(name, std::to_string(value.integer()));
    } else if (value.is_bool()) {
      if (value.boolean()) request.form.add(name, "yes");
    } else {
      refuse(name);
    }
  };
  for (const auto& [name, value] : body->object()) {
    if (value.is_array()) {
      for (const auto& one : value.array()) add(name, one);
    } else {
      add(name, value);
    }
  }
  return wrong.empty();
}

WebAnswer refused_answer(const Refusals& wrong) {
  Json::Array list;
  for (const auto& refusal : wrong) {
    // By the name that the field has here, not by the option of the command line.
    const std::string field = refusal.field.starts_with("--") ? refusal.field.substr(2) : refusal.field;
    list.push_back(Json{Json::Object{{"field", Json{field}}, {"message", Json{refusal.message}}, {"remedy", Json{refusal.remedy}}}});
  }
  return json_answer(422, {{"schema", Json{"tierproof/refused/1"}}, {"refused", Json{std::move(list)}}});
}

WebAnswer by_page(const Deed& deed, Visit& visit) {
  const auto booked = deed.act(visit);
  if (!booked) return deed.shown_by(visit);
  return booked_then(*booked, deed.then(visit, *booked));
}

WebAnswer by_script(const Deed& deed, Visit& visit) {
  WebRequest given = visit.request;
  Refusals wrong;
  if (deed.takes_file ? !given.file : !take_fields(given, wrong)) {
    if (deed.takes_file) wrong.push_back({"", 0, "file", "is missing", "send the fields and one file as multipart/form-data"});
    return refused_answer(wrong);
  }
  for (const auto& [name, value] : given.form.all()) {
    const auto known = [&, called = name](const DeedField& field) {
      const std::string_view pattern = field.name;
      return pattern.ends_with('*') ? called.starts_with(pattern.substr(0, pattern.size() - 1)) : called == pattern;
    };
    if (name != "key" && name != "pin" && std::none_of(deed.fields.begin(), deed.fields.end(), known))
      wrong.push_back({"", 0, name, "is not a field of this", "see the description of the API"});
  }
  if (!wrong.empty()) return refused_answer(wrong);
  Visit asked{visit.site, given};
  asked.device = visit.device;
  asked.who = visit.who;
  asked.token = visit.token;
  asked.part = visit.part;
  const auto booked = deed.act(asked);
  if (!booked) return refused_answer(asked.wrong);
  Json::Array notes;
  Json::Array subjects;
  for (const auto sequence : booked->sequences) notes.emplace_back(static_cast<std::int64_t>(sequence));
  for (const auto& subject : booked->subjects) subjects.emplace_back(subject);
  return json_answer(200, {{"schema", Json{"tierproof/booked/1"}},
                           {"notes", Json{std::move(notes)}},
                           {"subjects", Json{std::move(subjects)}},
                           {"already", Json{booked->already}},
                           {"head", Json{format_head(booked->head)}}});
}

}  // namespace

const std::vector<Deed>& deeds() {
  static const std::vector<Deed> all = [] {
    std::vector<Deed> every;
    for (auto& some : {cupboard_deeds(), bench_deeds(), cold_deeds(), leaving_deeds(), counter_deeds(), gone_deeds(), drawer_deeds(),
                       note_deeds(), plan_deeds(), keeping_deeds(), kept_deeds(), looking_deeds(), may_contain_deeds(), attaching_deeds()})
      every.insert(every.end(), some.begin(), some.end());
    return every;
  }();
  return all;
}

std::vector<Route> routes_of_deeds() {
  std::vector<Route> all;
  for (const auto& deed : deeds()) {
    all.push_back({"POST", deed.path, deed.who, [&deed](Visit& visit) { return by_page(deed, visit); }});
    all.push_back({"POST", std::string{"/api/v1"} + deed.path, deed.who, [&deed](Visit& visit) { return by_script(deed, visit); }});
  }
  return all;
}

std::optional<Booked> issued_booked(Visit& visit, const std::function<Result<Issued>(Session&)>& act) {
  const auto issued = visit.write<Issued>([&](Session& session) -> Result<Issued> {
    if (const auto before = session.booked_before()) return Issued{{}, *before, {}};
    return act(session);
  });
  if (!issued) return std::nullopt;
  Booked booked = issued->booked;
  booked.sequences.resize(std::min<std::size_t>(booked.sequences.size(), 1));
  return booked;
}

std::function<std::string(const Visit&, const Booked&)> to(std::string path) {
  return [path = std::move(path)](const Visit&, const Booked&) { return path; };
}

const std::vector<Route>& routes() {
  static const std::vector<Route> all = [] {
    std::vector<Route> every;
    for (auto& some : {door_routes(), beginning_routes(), cupboard_routes(), bench_routes(), cold_routes(), leaving_routes(),
                       counter_routes(), gone_routes(), drawer_routes(), note_routes(), plan_routes(), keeping_routes(), kept_routes(),
                       looking_routes(), may_contain_routes(), attaching_routes(), api_routes(), api_view_routes(), routes_of_deeds()})
      every.insert(every.end(), some.begin(), some.end());
    return every;
  }();
  return all;
}

}  // namespace tierproof::web
