#include "tierproof/app/erasing.h"

#include <cstdio>
#include <fstream>
#include <sstream>

#include "app/app_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/app/whole_kitchen.h"
#include "tierproof/kitchen/edges.h"

namespace tierproof {
namespace {

const DataRoot data_root{TIERPROOF_SOURCE_DIR};

std::string bytes_of_file(const std::string& path) {
  std::ifstream in{path, std::ios::binary};
  std::ostringstream out;
  out << in.rdbuf();
  return std::move(out).str();
}

/// What a reader sees of a PDF: its text is compressed in the bytes.
std::string text_of_pdf(const std::string& bytes, const std::string& aside) {
  std::ofstream{aside, std::ios::binary} << bytes;
  std::string text;
  FILE* pipe = ::popen(("pdftotext -layout '" + aside + "' -").c_str(), "r");
  if (pipe == nullptr) return "";
  char part[4096];
  for (std::size_t n = 0; (n = std::fread(part, 1, sizeof part, pipe)) > 0;) text.append(part, n);
  EXPECT_EQ(::pclose(pipe), 0);
  std::filesystem::remove(aside);
  return text;
}

/// A cake that was ordered, made, released against a finding, labelled and handed over, with words that nothing else holds.
struct DeliveredOrder {
  TestKitchen kitchen;
  std::string cake;
  const std::string customer = "Zoë Überraschung";
  const std::string contact = "Käferweg 77";
  const std::string first_told = "Zuerst gesagt";
  const std::string told = "Danach gesagt";
  const std::string of_whom = "Noël Größe";
  const std::string changed_why = "Anruf von Zoë";
  const std::string corrected_why = "Frau Ünique rief an";
  const std::string reason = "Geschätzt für Zoë";
  const std::string taken_by = "Onkel Ægir";
  const std::string last_told = "Zuletzt gesagt";
  const std::string sent = "Brief an Zoë";
  const std::string accepted = "Zettel Ñandú";

  explicit DeliveredOrder(bool hand_over = true) {
    const std::string sponge = kitchen.make("sponge", grams(270));
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), customer, "before it was chosen", "the maker", "face to face", 1, 900};
    ordering.contact = contact;
    cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"fish"}, of_whom, first_told, ""}); });
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"sesame"}, of_whom, told, changed_why}); });
    kitchen.done([&](Session& s) { return accept_in_writing(s, cake, {"sesame"}, accepted); });
    const auto note = kitchen.open(true).state().cakes.at(CakeId{cake}).sequence;
    const std::string body = corrected_body(kitchen, note, {{"pieces", Json{12}}});
    kitchen.done([&](Session& s) { return correct(s, note, {"new.json", body}, corrected_why); });
    Tiering tiering;
    tiering.cake = cake;
    tiering.tier = "only";
    tiering.parts = {{sponge, grams(270)}};
    tiering.estimated = true;
    kitchen.done([&](Session& s) { return build_tier(s, tiering); });
    kitchen.done([&](Session& s) { return tell_customer(s, {cake, "before the order", customer, sent, "", "now"}); });
    Session session = kitchen.open();
    EXPECT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, data_root).has_value());
    kitchen.at("2026-05-01T12:00+01:00");
    EXPECT_EQ(release_of(kitchen, cake, {{"masses-weighed", reason}, {"answer-changed", reason}}), "");
    if (!hand_over) return;
    kitchen.at("2026-05-02T10:00+01:00");
    Session handing = kitchen.open();
    const auto handed = hand_over_cake(handing, {cake, taken_by, last_told, {}, ""});
    EXPECT_TRUE(handed && handed->booked);
    EXPECT_TRUE(issue_record(handing, cake, data_root).has_value());
    EXPECT_TRUE(issue_inspection(handing, {parse_date("2026-05-01"), {}}, data_root).has_value()) << "it gives the reasons";
    kitchen.at("2026-07-01T09:00+01:00");
  }

  std::vector<std::string> words() const {
    return {customer, contact, first_told, told, of_whom, changed_why, corrected_why, reason, taken_by, last_told, sent, accepted};
  }
  std::string file() const { return kitchen.entrance().kitchen_file; }

  /// Everything that the kitchen holds or gives, as a reader may see it.
  std::string everything() const {
    const Session session = kitchen.open(true);
    std::string all = bytes_of_file(file()) + bytes_of_file(file() + "-journal");
    const auto exported = export_kitchen(session.store());
    EXPECT_TRUE(exported.has_value());
    if (exported) all += exported->document;
    const Append whole = session.store().whole();
    for (const auto& paper : whole.papers) {
      all += paper.bytes;
      if (paper.media_type == "application/pdf") all += text_of_pdf(paper.bytes, file() + ".pdf");
    }
    return all;
  }
  Strings found_in(const std::string& all) const {
    Strings found;
    for (const auto& one : words()) {
      if (all.find(one) != std::string::npos) found.push_back(one);
    }
    return found;
  }
  Erased erase() {
    Session session = kitchen.open();
    const auto erased = erase_customer(session, {cake, "the customer asked"});
    if (erased) return *erased;
    for (const auto& refusal : erased.error()) ADD_FAILURE() << describe(refusal);
    return {};
  }
  std::string refused() {
    Session session = kitchen.open();
    const auto before = session.head();
    const auto erased = erase_customer(session, {cake, "the customer asked"});
    EXPECT_FALSE(erased.has_value());
    EXPECT_EQ(session.head(), before);
    std::string all;
    if (!erased) {
      for (const auto& refusal : erased.error()) all += describe(refusal) + "\n";
    }
    return all;
  }
  std::uint64_t note_of_paper(const std::string& paper, const std::string& form) const {
    const Session session = kitchen.open(true);
    for (const auto& issued : session.state().papers) {
      if (issued.value.paper == paper && issued.value.form == form) return issued.sequence;
    }
    return 0;
  }
};

TEST(EraseCustomer, LeavesNoneOfTheirWordsInTheFileAnExportOrAPaper) {
  DeliveredOrder order;
  const auto before = order.found_in(order.everything());
  EXPECT_EQ(before, order.words()) << "all of it was there";
  const auto head = order.kitchen.open(true).head();
  const auto erased = order.erase();
  EXPECT_GE(erased.texts, 14);
  EXPECT_EQ(erased.papers.size(), 6u) << "the record, and the inspection record that gives its reasons, each in three forms";
  EXPECT_EQ(order.found_in(order.everything()), Strings{});
  EXPECT_FALSE(std::filesystem::exists(order.file() + "-journal"));
  const Session session = order.kitchen.open(true);
  EXPECT_EQ(session.store().verify(head).complaints, Strings{});
  ASSERT_EQ(session.state().erasures.size(), 1u);
  const auto& note = session.state().erasures.front();
  EXPECT_EQ(note.value.texts, erased.texts);
  EXPECT_EQ(note.value.papers.size(), 6u);
  EXPECT_EQ(note.subject, order.cake);
}

TEST(EraseCustomer, LeavesWhatWentIntoTheCakeWhole) {
  DeliveredOrder order;
  const auto edges = [&] {
    Strings all;
    const Session session = order.kitchen.open(true);
    for (const auto& note : session.notes()) {
      for (const auto& edge : edges_of(note)) all.push_back(edge.parent + " in " + edge.child);
    }
    return all;
  };
  const auto before = edges();
  const auto declared = order.kitchen.judged(order.cake).declared->contains;
  order.erase();
  EXPECT_EQ(edges(), before);
  EXPECT_FALSE(before.empty());
  EXPECT_EQ(order.kitchen.judged(order.cake).declared->contains, declared);
  Session session = order.kitchen.open();
  session.store().rebuild();
  EXPECT_EQ(session.store().verify(std::nullopt).complaints, Strings{});
}

TEST(EraseCustomer, PrintsErasedAndClaimsNoMoreThanBefore) {
  DeliveredOrder order;
  order.erase();
  Session session = order.kitchen.open();
  const auto record = issue_record(session, order.cake, data_root);
  ASSERT_TRUE(record.has_value());
  const std::string json = record->papers.back().bytes;
  EXPECT_THAT(json, HasSubstr("(erased)"));
  EXPECT_THAT(json, HasSubstr("named, and erased since"));
  EXPECT_THAT(json, HasSubstr("was erased on 1 July 2026 (note "));
  EXPECT_EQ(order.found_in(json), Strings{});
  EXPECT_TRUE(issue_label(session, {order.cake, "sheet-99x139", 1}, data_root).has_value());
  const auto finding = the_finding(order.kitchen, order.cake, "allergy-answer");
  EXPECT_NE(finding.verdict, Verdict::shown) << "an erased answer is not known, and never a pass";
  EXPECT_NE(finding.stop, Stop::none);
}

TEST(EraseCustomer, MakesNoLabelOutOfDateThatWasRight) {
  DeliveredOrder order;
  const auto mixed = [&] { return order.kitchen.verdicts(order.cake, "mixed-records"); };
  const auto before = mixed();
  order.erase();
  EXPECT_EQ(mixed(), before);
}

TEST(EraseCustomer, LeavesTheInspectionRecordOfATimeWithoutTheCake) {
  DeliveredOrder order;
  Session session = order.kitchen.open();
  const auto issued = issue_inspection(session, {parse_date("2026-06-01"), {}}, data_root);
  ASSERT_TRUE(issued);
  const std::uint64_t note = issued->issued.booked.sequences.front();
  order.erase();
  EXPECT_TRUE(reprint(order.kitchen.open(true), note).has_value());
}

TEST(EraseCustomer, DoubtsSharedKitOnceNobodyKnowsWhatWasNamed) {
  TestKitchen kitchen;
  kitchen.recipe("nutty", R"([{"of": "almonds", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "198 g", "tin", "none", "room");
  kitchen.make("nutty", grams(198));
  kitchen.at("2026-05-01T09:00+01:00");
  kitchen.done([](Session& s) { return clean(s, {"tin", "washed, looked clean", "", {}, "", ""}); });
  kitchen.at("2026-05-01T10:00+01:00");
  const std::string sponge = kitchen.make("sponge", grams(270));
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Zoë", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"sesame"}, "Zoë", "nothing with sesame", ""}); });
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{"almonds: shown"}) << "the customer named sesame";
  kitchen.at("2026-07-01T08:00+01:00");
  Session session = kitchen.open();
  ASSERT_TRUE(erase_customer(session, {cake, "not needed any more"}).has_value());
  EXPECT_EQ(kitchen.verdicts(cake, "shared-kit"), Strings{"almonds: not shown"});
}

TEST(EraseCustomer, IsRefusedUntilTheirCakeCannotBeRecalledAnyMore) {
  DeliveredOrder order;
  const auto life = order.kitchen.judged(order.cake).life;
  ASSERT_TRUE(life && life->date);
  EXPECT_EQ(format_date(*life->date), "2026-05-05");
  // 30 days after the last day that it keeps: a choice of this project, in the rules of retention.
  order.kitchen.at("2026-06-04T23:30+01:00");
  EXPECT_THAT(order.refused(), HasSubstr("must be reachable until 4 June 2026"));
  EXPECT_THAT(order.refused(), HasSubstr("erase it from 5 June 2026 on"));
  order.kitchen.at("2026-06-05T00:10+01:00");
  EXPECT_GT(order.erase().texts, 0);
}

TEST(EraseCustomer, IsRefusedForAnOrderThatIsStillToBeHandedOver) {
  DeliveredOrder order{false};
  order.kitchen.at("2026-05-02T20:00+01:00");
  EXPECT_THAT(order.refused(), HasSubstr("has not been handed over: its customer is still needed"));
  EXPECT_THAT(order.refused(), HasSubstr("from 3 May 2026 on"));
  order.kitchen.at("2026-05-03T08:00+01:00");
  EXPECT_THAT(order.refused(), HasSubstr("must be reachable until")) << "it was built: it may have left without a note";
  order.kitchen.at("2026-07-01T08:00+01:00");
  EXPECT_GT(order.erase().texts, 0);
}

TEST(EraseCustomer, OfAnOrderThatWasNeverMadeWaitsForItsDayOnly) {
  TestKitchen kitchen;
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Zoë", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.at("2026-05-03T08:00+01:00");
  Session session = kitchen.open();
  const auto erased = erase_customer(session, {cake, "not needed any more"});
  ASSERT_TRUE(erased.has_value());
  EXPECT_EQ(erased->texts, 1);
  EXPECT_FALSE(session.state().cakes.at(CakeId{cake}).value.customer.text);
}

TEST(EraseCustomer, OfAnOrderThatWasTakenBackNeedsNotWait) {
  TestKitchen kitchen;
  Ordering ordering{"Plain cake", parse_date("2026-05-20"), "Zoë", "before it was chosen", "the maker", "face to face", 1, 900};
  const auto ordered = kitchen.done([&](Session& s) { return order_cake(s, ordering); });
  kitchen.done([&](Session& s) { return void_note(s, ordered.sequences.front(), "Zoë rang: no cake"); });
  Session session = kitchen.open();
  const auto erased = erase_customer(session, {ordered.subjects.front(), "the customer asked"});
  ASSERT_TRUE(erased.has_value()) << describe(erased.error().front());
  EXPECT_EQ(erased->texts, 2) << "the name, and the reason that named it";
  EXPECT_EQ(bytes_of_file(kitchen.entrance().kitchen_file).find("Zoë"), std::string::npos);
  EXPECT_EQ(session.store().verify(std::nullopt).complaints, Strings{});
}

TEST(EraseCustomer, IsRefusedWhileAComplaintIsOpenAndThenErasesItToo) {
  DeliveredOrder order;
  const std::string complaint =
      order.kitchen
          .done([&](Session& s) -> Result<Booked> {
            const auto told = complain(s, {order.cake, "illness", "Beschwerde von Zoë", "Übel nach dem Kuchen", ""});
            if (!told) return told.error();
            return told->booked;
          })
          .subjects.front();
  EXPECT_THAT(order.refused(), HasSubstr(complaint + " about " + order.cake + " is open"));
  order.kitchen.done([&](Session& s) { return settle_complaint(s, complaint, "Ärztlich geklärt", ""); });
  order.erase();
  const std::string all = order.everything();
  for (const char* word : {"Beschwerde von Zoë", "Übel nach dem Kuchen", "Ärztlich geklärt"})
    EXPECT_EQ(all.find(word), std::string::npos) << word;
  EXPECT_EQ(order.kitchen.open(true).store().verify(std::nullopt).complaints, Strings{});
}

TEST(EraseCustomer, IsRefusedWhileAPackInItIsWithdrawnAndNobodyToldThem) {
  DeliveredOrder order;
  order.kitchen.done([](Session& s) { return withdraw(s, "pack-1", "moth found"); });
  EXPECT_THAT(order.refused(), HasSubstr("pack-1 in it was withdrawn on 1 July 2026"));
  order.kitchen.done([&](Session& s) {
    return tell_customer(s, {order.cake, "after it was handed over", order.customer, "Do not eat it.", "", "now"});
  });
  EXPECT_GT(order.erase().texts, 0);
}

TEST(EraseCustomer, AgainFindsNothingLeft) {
  DeliveredOrder order;
  order.erase();
  EXPECT_THAT(order.refused(), HasSubstr("nothing left to erase of the customer of " + order.cake));
}

TEST(EraseCustomer, UnderAKeyIsToldAsBookedBefore) {
  DeliveredOrder order;
  order.kitchen.key = "erase once";
  const auto first = order.erase();
  const auto again = order.erase();
  EXPECT_TRUE(again.booked.already);
  EXPECT_EQ(again.booked.sequences, first.booked.sequences);
}

TEST(EraseCustomer, TakesAReasonThatItKnowsAndACakeThatIsThere) {
  DeliveredOrder order;
  Session session = order.kitchen.open();
  const auto erased = erase_customer(session, {"cake-9", "tidying up"});
  ASSERT_FALSE(erased.has_value());
  ASSERT_EQ(erased.error().size(), 2u);
  EXPECT_EQ(erased.error()[0].field, "--because");
  EXPECT_EQ(erased.error()[1].field, "cake");
}

TEST(EraseCustomer, ReachesNoOtherCake) {
  DeliveredOrder order;
  Ordering other{"Other cake", parse_date("2026-07-02"), "Anderer Kunde", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = order.kitchen.done([&](Session& s) { return order_cake(s, other); }).subjects.front();
  order.kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"milk"}, "Anderer Kunde", "told them", ""}); });
  order.erase();
  const Session session = order.kitchen.open(true);
  EXPECT_EQ(session.state().cakes.at(CakeId{cake}).value.customer.text, "Anderer Kunde");
  EXPECT_EQ(session.state().answer(CakeId{cake})->value.allergens.text, "milk");
  EXPECT_EQ(session.state().people.at(PersonId{"ada"}).value.name.text, "Ada Sample");
}

TEST(ErasedPaper, SaysWhenAndByWhichNoteItWasErased) {
  DeliveredOrder order;
  const auto record = order.note_of_paper("record", "pdf");
  const auto label = order.note_of_paper("label", "pdf");
  order.erase();
  const Session session = order.kitchen.open(true);
  EXPECT_TRUE(reprint(session, label).has_value()) << "a label without a stop tells nothing of its customer";
  try {
    static_cast<void>(reprint(session, record));
    ADD_FAILURE() << "it was given";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::no_input);
    EXPECT_THAT(fault.what(), HasSubstr("was erased on 1 July 2026 by note " + std::to_string(session.head().size)));
  }
}

TEST(ErasedPaper, IsALabelToo_WhenItsStopNamesTheAllergy) {
  DeliveredOrder order{false};
  order.kitchen.done([&](Session& s) { return answer_allergy(s, {order.cake, "named", {"eggs"}, order.of_whom, order.told, "again"}); });
  Session session = order.kitchen.open();
  const auto label = issue_label(session, {order.cake, "sheet-99x139", 1}, data_root);
  ASSERT_TRUE(label.has_value());
  ASSERT_THAT(label->papers.back().bytes, HasSubstr("the customer named egg"));
  order.kitchen.at("2026-07-01T08:00+01:00");
  EXPECT_EQ(order.erase().papers, label->booked.sequences);
  EXPECT_EQ(order.everything().find("the customer named egg"), std::string::npos);
}

TEST(ErasureNote, CanNeitherBeCorrectedNorVoided) {
  DeliveredOrder order;
  const auto note = order.erase().booked.sequences.front();
  EXPECT_THAT(order.kitchen.refused([&](Session& s) { return void_note(s, note, "a mistake"); }), HasSubstr("tells what was erased"));
}

}  // namespace
}  // namespace tierproof
