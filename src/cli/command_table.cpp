#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "door.h"
#include "run.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {

// clang-format off
const std::vector<Command>& command_table() {
  static const std::vector<Command> table{
      {"start", "Setting up", "Begin the records of a kitchen (`tierproof rules` lists the codes of rules).",
       "tierproof start --name \"My Kitchen\" --address \"1 Lane, Town\" --zone Europe/London --label-rules CODE --temperature-rules CODE --retention-rules CODE --owner anna=\"Anna Example\"", start_options},
      {"serve", "Setting up", "Open the kitchen's pages for a tablet or telephone, until it is ended.", "tierproof serve --address 192.168.1.20 --certificate kitchen.pem --certificate-key kitchen.key", serve_options},
      {"person", "Setting up", "Somebody who works here.", "tierproof person ben --name \"Ben Example\" --role helper", person_options},
      {"person-left", "Setting up", "Somebody works here no more; until when their name is kept counts from that day.", "tierproof person-left ben --on 2026-05-01", person_left_options},
      {"supplier", "Setting up", "Somebody food is bought from.", "tierproof supplier mill --name \"The Mill\" --address \"2 Road, Town\"", supplier_options},
      {"ingredient", "Setting up", "A food that is bought in.", "tierproof ingredient caster-sugar --name \"caster sugar\" --sugar", ingredient_options},
      {"specification", "Setting up", "What packs say: label name, parts, allergens, storage; a JSON document each. What changes something in use is shown first.", "tierproof specification caster-sugar.json butter.json", specification_options},
      {"looked", "Working", "A pack was compared with what is on file again, and says the same.", "tierproof looked cocoa --from shop --against \"the tin\"", looked_options},
      {"read-pack", "Setting up", "Read a list of ingredients pasted from a pack, for a person to confirm; records nothing.", "tierproof read-pack pack.txt --of baking-powder --from shop --to draft.json --storage room --checked-against \"the pack\"", read_pack_options},
      {"recipe", "Setting up", "How parts are made; a JSON document each.", "tierproof recipe sponge.json", recipe_options},
      {"before-cooking", "Working", "What is known of a recipe before anybody cooks: raw egg and boiled syrup, what it loses, other tins. Exit 1 where the mix cannot get hot enough.", "tierproof before-cooking meringue --tin round:8:3", before_cooking_options},
      {"measure", "Working", "Spoons and cups of one ingredient in grams, by its own density: a stopgap until it is weighed.", "tierproof measure flour 2:cup-250 --density 0.53 --density-by \"weighed here, level cup\"", measure_options},
      {"kit", "Setting up", "A piece of equipment.", "tierproof kit mixer --name \"stand mixer\"", kit_options},
      {"place", "Setting up", "A fridge, freezer or room.", "tierproof place cake-fridge --name \"cake fridge\" --kind fridge", place_options},
      {"thermometer", "Setting up", "A thermometer, with its error as its maker says.", "tierproof thermometer fork --name \"fork thermometer\" --error 0.5C --step 0.1C --measures food", thermometer_options},
      {"take-in", "Setting up", "Suppliers, ingredients or recipes from a CSV table: shows what would change, and records it with --book.", "tierproof take-in ingredients ingredients.csv --book", take_in_options},
      {"receive", "Working", "A pack that came in.", "tierproof receive butter --from dairy --code B71 --mass 5kg --use-by 2026-06-01 --dispatched 2026-04-28", receive_options},
      {"withdraw", "Working", "A pack that must not be used any more.", "tierproof withdraw pack-7 --why \"recalled by the supplier\"", withdraw_options},
      {"open", "Working", "A pack was opened: its use-within counts from here.", "tierproof open pack-7", open_options},
      {"tub", "Setting up", "A tub that packs of one ingredient are poured into.", "tierproof tub flour-tub --name \"flour tub\" --of flour", tub_options},
      {"top-up", "Working", "A pack was poured into a tub.", "tierproof top-up flour-tub pack-7", top_up_options},
      {"empty", "Working", "A tub was emptied and washed.", "tierproof empty flour-tub", empty_options},
      {"make", "Working", "A batch: packs are proposed earliest date first.", "tierproof make sponge --times 1.5 --yield 2150g", make_options},
      {"left-over", "Working", "What is kept of a batch, as a batch of its own.", "tierproof left-over batch-4 --mass 300g", left_over_options},
      {"thermometer-check", "Working", "A thermometer compared in melting ice or boiling water.", "tierproof thermometer-check fork 0.2C --in ice", thermometer_check_options},
      {"round", "Working", "What needs somebody now: food out of the cold, thermometers that are silent, checks that are due.", "tierproof round", round_options},
      {"temperature", "Working", "A temperature, typed or from a logger's file.", "tierproof temperature fork 71.2C --of batch-3", temperature_options},
      {"logger-layout", "Setting up", "How one sort of logger writes its files: a column map, kept under a name.", "tierproof logger-layout fridge-box fridge-box.tsv", logger_layout_options},
      {"put", "Working", "Where a batch or cake is from now on.", "tierproof put cake-1 --in cake-fridge", put_options},
      {"clean", "Working", "A piece of kit was cleaned, and how well that is known.", "tierproof clean mixer --how \"washed and tested\" --tested \"protein swab\" --for protein --found nothing", clean_options},
      {"cleaning-validated", "Working", "Evidence on file that a way of cleaning takes an allergen off a piece of kit; it ends when the kit or the recipe changes.", "tierproof cleaning-validated mixer --method \"hot wash, twice\" --for nuts:almond --worst praline --made-by \"a laboratory\" --kept \"folder 3\" --on 2026-04-01", cleaning_validated_options},
      {"kit-changed", "Working", "A piece of kit is not what it was: what was validated for it holds no more.", "tierproof kit-changed mixer \"a new whisk of another make\"", kit_changed_options},
      {"order-of-work", "Working", "In which order to make some recipes, so that the fewest allergens meet what is made without them.", "tierproof order-of-work praline sponge icing", work_order_options},
      {"adopt", "Working", "Let the plan adopt, for one recipe, a published reference for heating that is not law.", "tierproof adopt low-water-activity swiss-meringue --why \"the food authority was shown our heat step\"", adopt_options},
      {"tested", "Working", "Water activity and pH that were measured of a recipe, or of a finished cake.", "tierproof tested ganache --water-activity 0.84 --error 0.01 --ph 5.6 --ph-error 0.1 --on 2026-04-20 --method \"dew point, 25 °C\" --tested-by \"a laboratory\"", tested_options},
      {"advised", "Working", "What a food authority or laboratory wrote of how a recipe, or a finished cake, keeps.", "tierproof advised sponge --keep-in room --days 4 --written-by \"the food authority\" --on 2026-04-20 --kept \"blue folder\" --says \"plain sponge may stand in a cool room\"", advised_options},
      {"validation", "Working", "Evidence on file that a recipe's heat step works.", "tierproof validation curd --at 75C --hold 2 --made-by \"a laboratory\" --kept \"blue folder\" --on 2026-02-01", validation_options},
      {"plan", "Records", "The hazard plan in force in plain words, which recipes meet each row, and whether a review is due; or a document of it to edit.", "tierproof plan --write my-plan.json", plan_options},
      {"plan-take", "Records", "Take over a hazard plan as a new version, and see what it changes.", "tierproof plan-take my-plan.json", plan_take_options},
      {"plan-review", "Records", "Somebody went through the hazard plan and signs for it.", "tierproof plan-review --changed nothing --signed \"Anna Example\"", plan_review_options},
      {"officer-said", "Records", "What an officer said about a rule or the work, to be told where the rule is used.", "tierproof officer-said --who \"A. Officer\" --from \"Example Council\" --topic \"egg white\" --about egg-heat --words \"pasteurised white needs no thermometer\"", officer_said_options},
      {"attach", "Records", "Attach pictures or PDFs to what they show: a pack, ingredient, supplier, batch, cake, thermometer, or any note by its number.", "tierproof attach pack-3 front.jpg back.jpg --shows \"the sack, front and back\"", attach_options},
      {"attached", "Records", "What is attached, whether each file is as it was, and where it lies; or get one out. Exit 1 where one is not as it was.", "tierproof attached 41 --to sack.jpg", attached_options},
      {"regular", "Setting up", "Sorts of regular records: look at the starting set, take over what fits, add or change one by a file of your own.", "tierproof regular --take-over all", regular_options},
      {"due", "Working", "What is due today or on a day, what is open from before, and whether anybody works; or a calendar file of what is due. Exit 1 while something from before is open.", "tierproof due --calendar due.ics", due_options},
      {"all-fine", "Working", "Everything that is due today was looked at and is as it should be; what needs an answer of its own is told.", "tierproof all-fine --except sharp-tools", all_fine_options},
      {"done", "Working", "One regular record, with its answers.", "tierproof done pests seen=no", done_options},
      {"day-off", "Working", "Nobody works today, on a day, on some days, or on days of each week.", "tierproof day-off 2026-12-24 --until 2026-12-27", day_off_options},
      {"book-missed", "Working", "For a scheduler: books what was due up to yesterday and has no record, each once.", "tierproof book-missed", book_missed_options},
      {"missed", "Working", "A check that was not made, told as such; it helps no verdict.", "tierproof missed cake-fridge --day 2026-05-02 --because forgotten", missed_options},
      {"precaution", "Working", "Decide, with a reason, whether \"may contain\" is told of an allergen that packs do not speak of.", "tierproof precaution nuts:hazelnut --about kitchen --why \"hazelnuts are ground in the same room\"", precaution_options},
      {"throw-away", "Working", "A pack, batch or cake, or some of it, was thrown away.", "tierproof throw-away batch-4 --mass 300g --why \"fell on the floor\"", throw_away_options},
      {"went-wrong", "Going wrong", "Something went wrong: it stops what it touches until it is closed.", "tierproof went-wrong \"the fridge door stood open\" --about cake-fridge --shown-by temperature --at 2026-05-01T06:30", went_wrong_options},
      {"put-right", "Going wrong", "Close it: the cause, what became of the food, what was done.", "tierproof put-right trouble-1 --food binned --cause \"door not latched\" --done \"latch mended, everybody told\"", put_right_options},
      {"complaint", "Going wrong", "A complaint about a cake: its file stays as it is until it is settled.", "tierproof complaint cake-1 \"a guest was ill\" --of illness --from \"the customer, by phone\"", complaint_options},
      {"settle", "Going wrong", "Close a complaint with its outcome.", "tierproof settle complaint-1 --outcome \"reported to the authority, samples were good\"", settle_options},
      {"open-matters", "Going wrong", "What went wrong and is still open, complaints too, and what each touches.", "tierproof open-matters", open_matters_options},
      {"trace", "Going wrong", "Where everything of a pack, batch or cake went and what went into it; of several, what they have in common.", "tierproof trace pack-3 --counted 3260g", trace_options},
      {"recall", "Going wrong", "What to set aside and whom to tell when a pack or batch is recalled; --drill is an exercise. Exit 1 while something is still to do.", "tierproof recall pack-3", recall_options},
      {"misdeclared", "Going wrong", "What a pack said turned out wrong: the cakes that are out under its words, and what they said. Exit 1 where one is out.", "tierproof misdeclared 12 --from 2026-05-01", misdeclared_options},
      {"recall-begin", "Going wrong", "Begin a recall, or an exercise with --drill: from here on it is kept who did what and when.", "tierproof recall-begin pack-3 --why \"the mill rang: stones in it\"", recall_begin_options},
      {"recall-tick", "Going wrong", "One step of a recall: a customer told, food set aside, the food authority told.", "tierproof recall-tick recall-1 cake-1 told --note \"by telephone: do not eat any more of it\"", recall_tick_options},
      {"recall-close", "Going wrong", "Close a recall, once everything on its list was done or tried.", "tierproof recall-close recall-1 --cause \"stones in the flour\" --learned \"every sack is sieved\"", recall_close_options},
      {"recall-report", "Papers", "Print the report of a recall or an exercise.", "tierproof recall-report recall-1 --into papers", recall_report_options},
      {"doubtful", "Going wrong", "Which food rests on what a thermometer read that failed its check, and where that food is now.", "tierproof doubtful fork", doubtful_options},
      {"how-sold", "Cakes", "How is it sold? What must be on the pack then, and what must be told: asked and answered by the rules.", "tierproof how-sold --boxed before --sold-by maker", how_sold_options},
      {"cake", "Cakes", "An order, and how it is sold.", "tierproof cake --name \"Lemon cake\" --for 2026-05-02 --boxed before --sold-by maker --ordered face-to-face --face 900", cake_options},
      {"allergy", "Cakes", "The answer to the allergy question.", "tierproof allergy cake-1 --answer none --of \"the customer, by phone\"", allergy_options},
      {"accepted", "Cakes", "A customer's written yes to traces.", "tierproof accepted cake-1 --allergen nuts:hazelnut --written \"message of 3 May, kept with the order\"", accepted_options},
      {"told", "Cakes", "What the customer was told, in the words told.", "tierproof told cake-1 --when before-order --to \"the customer, by telephone\" --words \"contains wheat, egg and milk\"", told_options},
      {"message", "Cakes", "A ready-made text to send to a customer.", "tierproof message cannot-promise cake-1 --sent-to \"the customer, by message\"", message_options},
      {"tier", "Cakes", "A tier, built from batches by mass.", "tierproof tier cake-1 bottom --part batch-2=900g --part batch-4=650g --not-food dowel=4", tier_options},
      {"keeps", "Cakes", "Where a recipe, batch or cake is kept, for how long, and why: whether it needs the fridge, and how long it may be out.", "tierproof keeps cake-1", keeps_options},
      {"check", "Cakes", "What the records show of a cake, and what stops it.", "tierproof check cake-1", check_options},
      {"why", "Cakes", "Why each word stands on a cake's label: the rule, and the notes that brought it there.", "tierproof why cake-1 milk", why_options},
      {"release", "Cakes", "Decide that a cake may leave.", "tierproof release cake-1 --against cold-hold=\"moved to the second fridge, food felt cold\"", release_options},
      {"hand-over", "Cakes", "Give it to the customer, with the words told.", "tierproof hand-over cake-1 --to \"the customer\" --told \"contains wheat, eggs and milk; fridge; remove 4 dowels\"", hand_over_options},
      {"label", "Papers", "Print the label of a box.", "tierproof label cake-1 --stock sheet-99x139 --into papers", label_options},
      {"allergen-sheet", "Papers", "Print the allergens of a cake on a sheet, however it is sold.", "tierproof allergen-sheet cake-1 --into papers", allergen_sheet_options},
      {"venue-card", "Papers", "Print the card that stands beside the whole cake: allergens by tier and together, what to take out.", "tierproof venue-card cake-1 --size a5 --into papers", venue_card_options},
      {"hand-over-note", "Papers", "Print the note for whoever takes the cake: take out, keep, eat by, egg, what was told; to sign.", "tierproof hand-over-note cake-1 --into papers", hand_over_note_options},
      {"counter-list", "Papers", "Print the list for the counter: every cake against every allergen of the rules.", "tierproof counter-list --from 2026-05-01 --until 2026-05-07 --into papers", counter_list_options},
      {"record", "Papers", "Print the record of a cake.", "tierproof record cake-1 --into papers", record_options},
      {"inspection", "Papers", "What an officer asks to see, of a period: on the screen, or printed with --into. Exit 1 on the screen while something is open, late, missed or in doubt.", "tierproof inspection --from 2026-05-01 --until 2026-05-28 --into papers", inspection_options},
      {"tub-label", "Papers", "Print the label of a tub: what is in it, its allergens, until when; a line to write on when it was opened.", "tierproof tub-label batch-4 --stock sheet-63x38 --begin-at 5 --copies 2 --into papers", tub_label_options},
      {"shelf-label", "Papers", "Print the label of a pack on the shelf: allergens, supplier, lot code and dates.", "tierproof shelf-label pack-7 --stock die-57x32 --into papers", shelf_label_options},
      {"ruler-page", "Papers", "Print a page to measure how far a printer is off, with the outlines of a stock.", "tierproof ruler-page sheet-63x38 --into papers", ruler_page_options},
      {"specimens", "Papers", "Look at the labels of cakes under the rules of other places, side by side on sheets: nothing of it is for use, booked or kept.", "tierproof specimens cake-1 cake-2 --by-rules CODE --stock sheet-99x139 --into papers", specimens_options},
      {"paper", "Papers", "A paper that was issued, again, as it was.", "tierproof paper 93 --to label.pdf", paper_options},
      {"sheet", "Papers", "An empty form to fill in by hand when the power is out, and to type in later.", "tierproof sheet deliveries --into sheets --size a4 --copies 20", sheet_options},
      {"list", "Records", "What is recorded, as a table: on the screen, as CSV or as a spreadsheet file.", "tierproof list packs --xlsx packs.xlsx", list_options},
      {"notes", "Records", "What was recorded, in order.", "tierproof notes --about cake-1", notes_options},
      {"correct", "Records", "Replace what a note says, and say why.", "tierproof correct 41 right.json --why \"read the scale wrong\"", correct_options},
      {"void", "Records", "Take a note back, and say why.", "tierproof void 41 --why \"typed twice\"", void_options},
      {"head", "Records", "The records' fingerprint: their size and root.", "tierproof head", head_options},
      {"verify", "Records", "Check that nothing in the records was changed.", "tierproof verify --head 41:5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328", verify_options},
      {"rebuild", "Records", "Make the views again from the records.", "tierproof rebuild", rebuild_options},
      {"export", "Records", "The whole records as one JSON document, to keep elsewhere or take in again.", "tierproof export whole-kitchen.json", export_options},
      {"epcis", "Records", "Events of EPCIS 2.0 for whoever traces food beyond this kitchen, without a name of anybody; or look through such a file.", "tierproof epcis --from 2026-05-01 --until 2026-05-31 --out events.json", epcis_options},
      {"import", "Records", "A new kitchen file from a document that `export` wrote.", "tierproof import whole-kitchen.json --kitchen again.tierproof", import_options},
      {"erase", "Records", "Erase what is kept of the customer of a cake, for good.", "tierproof erase cake-1 --because \"the customer asked\"", erase_options},
      {"kept-until", "Records", "Until when everything has to be kept, by which rule, what holds it longer, and what may go.", "tierproof kept-until --may-go", kept_until_options},
      {"erase-old-customers", "Records", "Erase what is kept of the customer of every cake that may go by kept-until, for good and all at once.", "tierproof erase-old-customers --confirm 3", erase_old_customers_options},
      {"erase-old-words", "Records", "Erase the names of people who left and the words of regular records whose time is over by kept-until, for good and all at once.", "tierproof erase-old-words --confirm 12", erase_old_words_options},
      {"confirm-rule", "Records", "Somebody who knows confirmed a rule that rests on memory.", "tierproof confirm-rule lot-mark --body \"food authority of the town\" --told-by \"Mr Example\"", confirm_rule_options},
      {"rules", "Records", "The rules that can be chosen and what is wrong in them on a day; or one place's rules, row by row.", "tierproof rules --on 2026-12-01", rules_options},
      {"pin", "At the door", "Set the PIN that somebody signs in with on the kitchen's pages: six digits, typed, or read from standard input.", "tierproof pin ben", pin_options},
      {"let-in", "At the door", "A code by which one tablet or telephone is let in to the kitchen's pages; good for ten minutes.", "tierproof let-in", let_in_options},
      {"shut-out", "At the door", "A tablet or telephone is lost or given away: it is let in no more, and whoever is signed in on it is out.", "tierproof shut-out device-1", shut_out_options},
      {"unlock", "At the door", "Let somebody try again after ten wrong PINs.", "tierproof unlock ben", unlock_options},
      {"sensor", "At the door", "A token for a home-made thermometer that posts its readings; told once.", "tierproof sensor fridge-logger --of cake-fridge --name \"fridge, by the door\"", sensor_options},
      {"sensor-off", "At the door", "A sensor's token is taken back: it posts no more.", "tierproof sensor-off sensor-1", sensor_off_options},
      {"at-the-door", "At the door", "What is let in, who has a PIN, which sensors post, and what happened last.", "tierproof at-the-door", at_the_door_options},
      {"sum", "Sums", "A sum by itself, without a kitchen: boiling-point, heat, stay, cooling, syrup, meringue, water-activity or tin, with inputs, formula, source and caution.", "tierproof sum heat --readings step.csv --reference-c 70 --z-c 7.5 --need-min 2 --json", sum_options},
  };
  return table;
}
// clang-format on

namespace {

std::string from_environment(const char* name, std::string otherwise) {
  const char* value = std::getenv(name);
  return value == nullptr ? otherwise : std::string{value};
}

constexpr const char* footer =
    "tierproof keeps what you recorded and says what it shows; it never says that a cake is safe.\n"
    "Local law and the advice of your food authority come first.\n"
    "`tierproof COMMAND --help` gives the options and an example.";

/// When the command line asks for --json, tells on standard output what went wrong.
void print_failed(int argc, char** argv, const std::string& message, int exit) {
  // Looked for here, since a command line that is not understood sets no option.
  if (argc < 2 || std::none_of(argv + 1, argv + argc, [](const char* word) { return std::string_view{word} == "--json"; })) return;
  std::string text = message;
  if (const auto nfc = to_nfc(message)) {
    text = *nfc;
  } else {  // a name of a file may hold any bytes
    std::replace_if(
        text.begin(), text.end(), [](char c) { return (c & 0x80) != 0 || c == '\0'; }, '?');
  }
  const Json failed{Json::Object{{"schema", Json{"tierproof/failed/1"}}, {"message", Json{text}}, {"exit", Json{exit}}}};
  std::fputs((write_canonical(failed) + "\n").c_str(), stdout);
}

/// Parses the command line, runs one command and returns its exit status. @throws Fault
int run(int argc, char** argv) {
  CLI::App app{"Food-safety and allergen records of a celebration-cake kitchen, labels and cake records.", "tierproof"};
  Door door;
  door.kitchen_file = from_environment("TIERPROOF_KITCHEN", door.kitchen_file);
  door.by = from_environment("TIERPROOF_BY", "");
  door.now = from_environment("TIERPROOF_NOW", "");
  app.add_option("--kitchen", door.kitchen_file, "the kitchen's file (or TIERPROOF_KITCHEN)")->capture_default_str();
  app.add_option("--by", door.by, "short name of who is recording (or TIERPROOF_BY)");
  app.add_option("--as-of", door.as_of, "read what the records said when they held this many notes")->check(note_number());
  app.add_option("--once", door.once, "a key of your own: the same command with it books only once");
  app.add_option("--now", door.now, "set clock, with its offset; only in a demo kitchen (or TIERPROOF_NOW)");
  app.add_flag("--json", door.json, "print one JSON object");
  app.set_version_flag("--version", "tierproof " TIERPROOF_VERSION);
  app.footer(footer);
  app.failure_message([](const CLI::App* whole, const CLI::Error& error) { return usage_message(*whole, error); });
  app.require_subcommand(1);
  app.fallthrough();
  app.option_defaults()->always_capture_default(false);
  for (const auto& command : command_table()) {
    CLI::App* sub = app.add_subcommand(command.name, command.help);
    sub->group(command.group);
    sub->footer(std::string{"Example:\n  "} + command.example +
                "\n\nEvery command also takes --kitchen, --by, --json and what else `tierproof --help` lists.");
    sub->fallthrough();
    command.options(*sub, door);
  }
  try {
    app.parse(argc, argv);
    return door.action(door);
  } catch (const CLI::ParseError& error) {
    const int shown = app.exit(error);
    if (shown == 0) return exit_status::done;
    print_failed(argc, argv, std::string{trimmed(usage_message(app, error))}, exit_status::usage);
    return exit_status::usage;
  }
}

}  // namespace

int run_program(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const Fault& fault) {
    std::fprintf(stderr, "%s\n", fault.what());
    if (fault.exit_status() == exit_status::try_later) std::fputs("somebody else is recording: run the command again\n", stderr);
    print_failed(argc, argv, fault.what(), fault.exit_status());
    return fault.exit_status();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "this is a fault of the program, please report it: %s\n", error.what());
    print_failed(argc, argv, error.what(), exit_status::our_bug);
    return exit_status::our_bug;
  }
}

}  // namespace tierproof::cli
