#pragma once

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/keeping.h"
#include "tierproof/app/kit_care.h"
#include "tierproof/app/ordering.h"
#include "tierproof/app/recording.h"

namespace tierproof {

/// A demo kitchen in a folder of its own, with flour, sugar, butter, eggs and almonds, and a clock that the test sets. All invented.
class TestKitchen {
 public:
  TestKitchen() {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-app-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
    at("2026-05-01T08:00+01:00");
    static const std::string begun = [&] {
      begin();
      return load_file(entrance().kitchen_file);
    }();
    std::ofstream{entrance().kitchen_file, std::ios::binary} << begun;
  }
  ~TestKitchen() { std::filesystem::remove_all(folder_); }
  TestKitchen(const TestKitchen&) = delete;
  TestKitchen& operator=(const TestKitchen&) = delete;

  void at(const std::string& moment) { now_ = parse_zoned(moment)->at; }
  Entrance entrance() const {
    Entrance entrance;
    entrance.kitchen_file = (folder_ / "kitchen.tierproof").string();
    entrance.now = now_;
    entrance.person = person;
    entrance.client_key = key;
    entrance.device = "test";
    entrance.as_of = as_of;
    return entrance;
  }
  Session open(bool read_only = false) const { return Session{entrance(), rule_packs(), open_sqlite(entrance().kitchen_file, read_only)}; }

  /// Runs a use case that must work.
  template <class Act>
  Booked done(const Act& act) {
    Session session = open();
    const auto booked = act(session);
    if (!booked) {
      for (const auto& refusal : booked.error()) ADD_FAILURE() << describe(refusal);
      return {};
    }
    return *booked;
  }
  /// Runs a use case that must be refused, and gives every refusal in words.
  template <class Act>
  std::string refused(const Act& act) {
    Session session = open();
    const std::uint64_t before = session.head().size;
    const auto booked = act(session);
    EXPECT_FALSE(booked.has_value());
    EXPECT_EQ(open(true).head().size, before) << "a refusal books nothing";
    std::string all;
    if (!booked) {
      for (const auto& refusal : booked.error()) all += describe(refusal) + "\n";
    }
    return all;
  }

  void food(const std::string& id, const std::string& egg, const std::vector<std::string>& contains,
            const std::vector<std::string>& unknown = {}) {
    done([&](Session& s) { return add_ingredient(s, id, Ingredient{id, false, id == "sugar", false, egg}); });
    specification(id, contains, unknown);
  }
  void specification(const std::string& id, const std::vector<std::string>& contains, const std::vector<std::string>& unknown = {}) {
    Json document{Json::Object{{"ingredient", Json{id}},
                               {"supplier", Json{"shop"}},
                               {"label_name", Json{id}},
                               {"checked", Json{"2026-04-30"}},
                               {"checked_against", Json{"the pack"}},
                               {"storage", Json{"room"}},
                               {"absent", Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{"sheet"}}}}}}};
    for (const auto& allergen : contains) document["contains"] = Json{Json::Array{Json{allergen}}};
    for (const auto& allergen : unknown) document["unknown"] = Json{Json::Array{Json{allergen}}};
    done([&](Session& s) { return add_specifications(s, {{id + ".json", write_pretty(document)}}); });
  }
  std::string pack(const std::string& of, const std::string& use_by) {
    Delivery delivery{of, "shop", "code of " + of, "", grams(2000), {}, parse_date(use_by), {}, ""};
    return done([&](Session& s) { return receive(s, delivery); }).subjects.front();
  }
  void recipe(const std::string& id, const std::string& items, const std::string& yield, const std::string& kit, const std::string& egg,
              const std::string& storage, const std::string& more = "") {
    const std::string text = "{\"recipe\": \"" + id + "\", \"name\": \"" + id + "\", \"part\": \"sponge\", \"items\": " + items +
                             ", \"yield\": \"" + yield + "\", \"kit\": [\"" + kit + "\"], \"egg\": \"" + egg + "\", \"storage\": \"" +
                             storage + "\", \"life_days\": 4, \"life_reason\": \"the maker's decision\"" + more + "}";
    done([&](Session& s) { return add_recipes(s, {{id + ".json", text}}); });
  }
  std::string make(const std::string& recipe, Mass yield) {
    Making making;
    making.recipe = recipe;
    making.yield = yield;
    return done([&](Session& s) { return make_batch(s, making); }).subjects.front();
  }
  std::string cake() {
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 900};
    const std::string id = done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    done([&](Session& s) { return answer_allergy(s, {id, "none", {}, "the customer", "", ""}); });
    return id;
  }
  void tier(const std::string& cake, const std::string& name, const std::vector<std::pair<std::string, Mass>>& parts) {
    Tiering tiering;
    tiering.cake = cake;
    tiering.tier = name;
    tiering.parts.assign(parts.begin(), parts.end());
    done([&](Session& s) { return build_tier(s, tiering); });
  }
  void put_in(const std::string& what, const std::string& place) {
    done([&](Session& s) { return put(s, what, place, ""); });
  }
  /// A recipe or cake was measured as dry enough to stand without a fridge.
  void keeps_without_a_fridge(const std::string& of) {
    done([&](Session& s) { return record_measured(s, {of, "0.8", "0.01", "", "", "2026-05-01", "dew point", "a laboratory", ""}); });
  }
  void check_thermometers(std::int64_t fork = 10) {
    done([&](Session& s) { return check_probe(s, {"fork", "ice", Degrees{fork, Scale::celsius}, ""}); });
    done([](Session& s) { return check_probe(s, {"logger", "ice", Degrees{0, Scale::celsius}, ""}); });
  }
  /// Readings every 15 minutes of `about` by `probe`, all of one temperature.
  void readings(const std::string& probe, const std::string& about, const std::string& from, const std::string& to,
                const std::string& degrees) {
    std::string csv = "time,temperature\n";
    for (Instant t = parse_zoned(from)->at; t <= parse_zoned(to)->at; t += std::chrono::minutes{15})
      csv += format_zoned(t, Offset{60}) + "," + degrees + "\n";
    const GivenDocument map{"plain.tsv", load_file(std::string{TIERPROOF_SOURCE_DIR} + "/reference/probes/plain.tsv")};
    done([&](Session& s) { return import_readings(s, probe, about, "chilled", {"log.csv", csv}, map); });
  }
  Judgement judged(const std::string& cake) {
    const Session session = open(true);
    auto judgement = judge_cake(session, CakeId{cake}, {session.now(), Offset{60}});
    EXPECT_TRUE(judgement.has_value());
    return std::move(judgement).value();
  }
  /// The findings of one control, each as `subject: verdict`.
  std::vector<std::string> verdicts(const std::string& cake, const std::string& control) {
    std::vector<std::string> found;
    for (const auto& finding : judged(cake).findings) {
      if (finding.control == control) found.push_back(finding.subject + ": " + std::string{term_of(finding.verdict)});
    }
    return found;
  }
  std::vector<std::string> stops(const std::string& cake) {
    std::vector<std::string> found;
    for (const auto& finding : judged(cake).findings) {
      if (finding.stop != Stop::none) found.push_back(finding.control);
    }
    return found;
  }

  std::string person = "ada";          ///< who records
  std::string key;                     ///< client key of the next commands
  std::optional<std::uint64_t> as_of;  ///< of the next sessions

 private:
  /// The records that every test begins with: made by the first kitchen of a program, and copied by the others.
  void begin() {
    NewKitchen begun;
    begun.kitchen.name = "Test Kitchen";
    begun.kitchen.address = {"Unit 0, Example Yard"};
    begun.kitchen.zone = "Europe/London";
    begun.kitchen.altitude_m = 40;
    begun.kitchen.label_rules = "gb";
    begun.kitchen.temperature_rules = "gb-eng";
    begun.kitchen.retention_rules = "gb";
    begun.kitchen.demo = true;
    begun.kitchen.seed = "app tests";
    begun.owner_id = "ada";
    begun.owner_name = "Ada Sample";
    EXPECT_TRUE(begin_kitchen(entrance(), begun, rule_packs()).has_value());
    done([](Session& s) { return add_supplier(s, "shop", Supplier{{"Example Shop", "1 Shop Lane"}, {}, {}}); });
    food("flour", "none", {"gluten:wheat"});
    food("sugar", "none", {});
    food("butter", "none", {"milk"});
    food("eggs", "shell", {"eggs"});
    food("almonds", "none", {"nuts:almond"});
    for (const char* kit : {"whisk", "bowl", "tin"}) done([&](Session& s) { return add_equipment(s, kit, kit); });
    done([](Session& s) { return add_place(s, "fridge", Place{"fridge", "fridge"}); });
    done([](Session& s) { return add_place(s, "worktop", Place{"worktop", "room"}); });
    done([](Session& s) { return add_probe(s, "fork", Probe{"fork thermometer", Scale::celsius, 50, 10, "food", {}}); });
    done([](Session& s) { return add_probe(s, "logger", Probe{"fridge logger", Scale::celsius, 50, 10, "air", PlaceId{"fridge"}}); });
    for (const char* food : {"flour", "sugar", "butter", "eggs", "almonds"}) pack(food, "2026-06-30");
    recipe("sponge", R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}, {"of": "eggs", "mass": "100 g"}])", "270 g",
           "tin", "baked through", "room");
    recipe("icing", R"([{"of": "butter", "mass": "100 g"}, {"of": "sugar", "mass": "200 g"}])", "298 g", "whisk", "none", "fridge");
    recipe("praline", R"([{"of": "almonds", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "198 g", "bowl", "none", "room");
    for (const char* dry : {"sponge", "praline"}) keeps_without_a_fridge(dry);
    check_thermometers();
  }

  std::filesystem::path folder_;
  Instant now_{};
};

using Strings = std::vector<std::string>;

}  // namespace tierproof
