#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/app/retrying.h"
#include "tierproof/app/session.h"
#include "tierproof/text/json.h"

namespace tierproof::cli {

/// What every command shares: the options that stand before or after any command, and how results are printed.
class Door {
 public:
  std::string kitchen_file = "kitchen.tierproof";
  std::string by;
  std::string now;
  std::string once;
  std::int64_t as_of = 0;
  bool json = false;

  /// The command that was named; set by its options' callback.
  std::function<int(Door&)> action;

  const DataRoot& data();
  Entrance entrance() const;
  /// Opens the kitchen. @throws Fault
  Session open(bool read_only);

  /// Runs an action that records something, again if somebody else recorded in between, and prints what was booked.
  /// @param after  what to say besides, once it is printed
  int record(
      const std::function<Result<Booked>(Session&)>& act,
      const std::function<void(const Session&, const Booked&)>& after = [](const Session&, const Booked&) {});
  /// The same for an action that returns something of its own; `print` prints it and returns the exit status.
  template <class Done>
  int write(const std::function<Result<Done>(Session&)>& act, const std::function<int(Session&, const Done&)>& print) {
    return on_fresh_records(
        [&] { return open(false); }, act,
        [&](Session& session, const Result<Done>& done) { return done ? print(session, *done) : refuse(done.error()); });
  }
  /// Runs an action that only reads.
  int read(const std::function<int(Session&)>& act);

  int refuse(const Refusals& refusals) const;
  /// One JSON object on standard output; `demo` is added.
  void print(Json json, bool demo) const;
  /// A line for people on standard output.
  static void say(const std::string& line);
  /// Says DEMO on standard error, where the output itself is for piping.
  static void mark_demo(bool demo);
  /// @param more  further members of the JSON object
  int print_booked(const Session& session, const Booked& booked, Json::Object more = {}) const;

 private:
  std::optional<DataRoot> data_;
};

/// Refuses an option's text; CLI11 reports it as a usage error (64).
[[noreturn]] void bad_option(const std::string& option, const std::string& text, const std::string& remedy);
/// A mass above nothing, as much as the records hold.
Mass mass_of(const std::string& option, const std::string& text);
/// The same, or 0 g.
Mass mass_or_none_of(const std::string& option, const std::string& text);
Degrees degrees_of(const std::string& option, const std::string& text);
Date date_of(const std::string& option, const std::string& text);
/// `name=value`
std::pair<std::string, std::string> pair_of(const std::string& option, const std::string& text, const std::string& example);
std::optional<Mass> maybe_mass(const std::string& option, const std::string& text);
std::optional<Degrees> maybe_degrees(const std::string& option, const std::string& text);
/// A station pressure of 500 to 1100 hPa as whole Pa.
std::optional<std::int64_t> maybe_hectopascals(const std::string& option, const std::string& text);
std::optional<Date> maybe_date(const std::string& option, const std::string& text);
GivenDocument document_of(const std::string& path);
/// Lets an option hold whole numbers from `least` to `most` only.
CLI::Validator whole_number(std::int64_t least, std::int64_t most);
CLI::Validator note_number();
/// What an error of the command line says to the person who typed it, with where to read on.
std::string usage_message(const CLI::App& app, const CLI::Error& error);

/// One command: its name, what it does, an example, and its options.
struct Command {
  const char* name;
  const char* group;
  const char* help;
  const char* example;
  void (*options)(CLI::App& app, Door& door);
};
/// Every command, in the order that help lists them.
const std::vector<Command>& command_table();

void start_options(CLI::App&, Door&);
void serve_options(CLI::App&, Door&);
void person_options(CLI::App&, Door&);
void supplier_options(CLI::App&, Door&);
void ingredient_options(CLI::App&, Door&);
void specification_options(CLI::App&, Door&);
void read_pack_options(CLI::App&, Door&);
void recipe_options(CLI::App&, Door&);
void before_cooking_options(CLI::App&, Door&);
void measure_options(CLI::App&, Door&);
void kit_options(CLI::App&, Door&);
void place_options(CLI::App&, Door&);
void thermometer_options(CLI::App&, Door&);
void receive_options(CLI::App&, Door&);
void withdraw_options(CLI::App&, Door&);
void open_options(CLI::App&, Door&);
void tub_options(CLI::App&, Door&);
void top_up_options(CLI::App&, Door&);
void empty_options(CLI::App&, Door&);
void make_options(CLI::App&, Door&);
void left_over_options(CLI::App&, Door&);
void thermometer_check_options(CLI::App&, Door&);
void round_options(CLI::App&, Door&);
void doubtful_options(CLI::App&, Door&);
void temperature_options(CLI::App&, Door&);
void logger_layout_options(CLI::App&, Door&);
void put_options(CLI::App&, Door&);
void clean_options(CLI::App&, Door&);
void cleaning_validated_options(CLI::App&, Door&);
void kit_changed_options(CLI::App&, Door&);
void work_order_options(CLI::App&, Door&);
void missed_options(CLI::App&, Door&);
void regular_options(CLI::App&, Door&);
void done_options(CLI::App&, Door&);
void all_fine_options(CLI::App&, Door&);
void day_off_options(CLI::App&, Door&);
void due_options(CLI::App&, Door&);
void book_missed_options(CLI::App&, Door&);
void precaution_options(CLI::App&, Door&);
void throw_away_options(CLI::App&, Door&);
void went_wrong_options(CLI::App&, Door&);
void put_right_options(CLI::App&, Door&);
void complaint_options(CLI::App&, Door&);
void settle_options(CLI::App&, Door&);
void open_matters_options(CLI::App&, Door&);
void recall_options(CLI::App&, Door&);
void recall_begin_options(CLI::App&, Door&);
void recall_tick_options(CLI::App&, Door&);
void recall_close_options(CLI::App&, Door&);
void recall_report_options(CLI::App&, Door&);
void misdeclared_options(CLI::App&, Door&);
void trace_options(CLI::App&, Door&);
void validation_options(CLI::App&, Door&);
void tested_options(CLI::App&, Door&);
void advised_options(CLI::App&, Door&);
void plan_options(CLI::App&, Door&);
void plan_take_options(CLI::App&, Door&);
void plan_review_options(CLI::App&, Door&);
void officer_said_options(CLI::App&, Door&);
void attach_options(CLI::App&, Door&);
void attached_options(CLI::App&, Door&);
void keeps_options(CLI::App&, Door&);
void adopt_options(CLI::App&, Door&);
void cake_options(CLI::App&, Door&);
void allergy_options(CLI::App&, Door&);
void accepted_options(CLI::App&, Door&);
void told_options(CLI::App&, Door&);
void message_options(CLI::App&, Door&);
void tier_options(CLI::App&, Door&);
void check_options(CLI::App&, Door&);
void release_options(CLI::App&, Door&);
void hand_over_options(CLI::App&, Door&);
void label_options(CLI::App&, Door&);
void record_options(CLI::App&, Door&);
void inspection_options(CLI::App&, Door&);
void allergen_sheet_options(CLI::App&, Door&);
void venue_card_options(CLI::App&, Door&);
void hand_over_note_options(CLI::App&, Door&);
void counter_list_options(CLI::App&, Door&);
void tub_label_options(CLI::App&, Door&);
void shelf_label_options(CLI::App&, Door&);
void ruler_page_options(CLI::App&, Door&);
void specimens_options(CLI::App&, Door&);
void paper_options(CLI::App&, Door&);
void sheet_options(CLI::App&, Door&);
void notes_options(CLI::App&, Door&);
void correct_options(CLI::App&, Door&);
void void_options(CLI::App&, Door&);
void head_options(CLI::App&, Door&);
void verify_options(CLI::App&, Door&);
void rebuild_options(CLI::App&, Door&);
void rules_options(CLI::App&, Door&);
void epcis_options(CLI::App&, Door&);
void export_options(CLI::App&, Door&);
void import_options(CLI::App&, Door&);
void erase_options(CLI::App&, Door&);
void kept_until_options(CLI::App&, Door&);
void erase_old_customers_options(CLI::App&, Door&);
void erase_old_words_options(CLI::App&, Door&);
void person_left_options(CLI::App&, Door&);
void list_options(CLI::App&, Door&);
void take_in_options(CLI::App&, Door&);
void looked_options(CLI::App&, Door&);
void confirm_rule_options(CLI::App&, Door&);
void why_options(CLI::App&, Door&);
void how_sold_options(CLI::App&, Door&);
void sum_options(CLI::App&, Door&);
void let_in_options(CLI::App&, Door&);
void shut_out_options(CLI::App&, Door&);
void pin_options(CLI::App&, Door&);
void unlock_options(CLI::App&, Door&);
void sensor_options(CLI::App&, Door&);
void sensor_off_options(CLI::App&, Door&);
void at_the_door_options(CLI::App&, Door&);

/// Whether the file's first note says that it is a demo; false where that note cannot be read.
bool of_a_demo(const RecordStore& store);

/// The moment and its day in UTC, for commands that open no kitchen.
Instant now_by_the_clock();
Date today_by_the_clock();

}  // namespace tierproof::cli
