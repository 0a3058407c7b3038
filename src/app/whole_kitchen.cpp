#include "tierproof/app/whole_kitchen.h"

#include <fmt/format.h>

#include <map>
#include <set>
#include <utility>

#include "base64.h"
#include "tierproof/store/named_bytes.h"
#include "tierproof/text/fields.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr const char* schema_name = "tierproof/whole-kitchen/1";
constexpr const char* schema_family = "tierproof/whole-kitchen/";

/// Puts `bytes` into `into` as they are when JSON can hold them, else as base64.
void put_bytes(Json::Object& into, const std::string& bytes) {
  const auto nfc = bytes.find('\0') == std::string::npos ? to_nfc(bytes) : std::nullopt;
  if (nfc && *nfc == bytes) {
    into.emplace("text", Json{bytes});
  } else {
    into.emplace("base64", Json{to_base64(bytes)});
  }
}

bool says_demo(const Entry& first) {
  const Json* demo = first.body.is_object() ? first.body.find("demo") : nullptr;
  return demo != nullptr && *demo == Json{true};
}

Head head_of(const std::vector<Entry>& entries) {
  Frontier frontier;
  for (const auto& entry : entries) frontier.add(leaf_hash(leaf_text(entry)));
  return frontier.head();
}

/// Reads a document of `export_kitchen`, collecting everything that is wrong with it.
class WholeReader {
 public:
  WholeReader(const Json& json, std::string file) : file_{std::move(file)}, fields_{json, file_, "", refusals_} {}

  void read() {
    const std::string schema = fields_.text("schema");
    if (schema.empty()) return;
    if (schema != schema_name) {
      const bool another = schema.starts_with(schema_family);
      fields_.refuse("schema",
                     another ? fmt::format("\"{}\" is a version that this program does not know", schema)
                             : fmt::format("\"{}\" is not the export of a whole kitchen", schema),
                     another ? "take it in with the program version that wrote it, or a newer one" : "name a file that `export` wrote");
      return;
    }
    kitchen = fields_.text("kitchen");
    if (kitchen.empty()) fields_.refuse("kitchen", "is empty", "export the kitchen again");
    const std::string head_text = fields_.text("head");
    const auto stated = parse_head(head_text);
    if (!stated) fields_.refuse("head", fmt::format("\"{}\" is not a head", head_text), "export the kitchen again");
    const bool demo = fields_.flag("demo", false);
    fields_.text("program");
    each("entries", [&](Fields& one, std::size_t at) { entry(one, at + 1); });
    if (refusals_.empty()) lead_to(stated, demo);
    if (!refusals_.empty()) return;  // what an entry seals cannot be judged while the entries do not hold
    each("blocks", [&](Fields& one, std::size_t) { block(one); });
    each("sealed", [&](Fields& one, std::size_t) { sealed(one); });
    each("papers", [&](Fields& one, std::size_t) { paper(one); });
    fields_.done();
    if (refusals_.empty()) check_kinds();
  }

  std::string kitchen;
  Append whole;
  const Refusals& refusals() const { return refusals_; }

 private:
  static constexpr const char* as_exported = "take the document as it was exported";

  /// The entries are those that the document was made of.
  void lead_to(const std::optional<Head>& stated, bool demo) {
    if (whole.entries.empty()) return fields_.refuse("entries", "there is no entry", as_exported);
    if (says_demo(whole.entries.front()) != demo) fields_.refuse("demo", "is not what the first note says", as_exported);
    const Head found = head_of(whole.entries);
    if (stated != found) {
      fields_.refuse(
          "head", fmt::format("the document says {}, but its {} entries lead to {}", format_head(*stated), found.size, format_head(found)),
          "entries were added, left out or changed: take the document as it was exported");
    }
  }

  template <class Read>
  void each(std::string_view key, const Read& read_one) {
    const Json::Array& items = fields_.list(key);
    for (std::size_t i = 0; i < items.size(); ++i) {
      Fields one{items[i], file_, fields_.path_of(key, i), refusals_};
      read_one(one, i);
      one.done();
    }
  }

  void entry(Fields& one, std::uint64_t sequence) {
    const std::string leaf = one.text("leaf");
    const std::string hash = one.text("hash");
    auto read = parse_entry(leaf);
    if (to_hex(leaf_hash(leaf)) != hash)
      return one.refuse("leaf", fmt::format("entry {} does not have the hash that stands beside it", sequence), as_exported);
    if (!read) {
      return one.refuse("leaf", fmt::format("entry {} cannot be read: {}", sequence, describe(read.error().front())),
                        "take it in with the program version that wrote it, or a newer one");
    }
    if (read->sequence != sequence)
      return one.refuse("leaf", fmt::format("entry {} stands where {} is next", read->sequence, sequence), as_exported);
    if (read->kitchen != kitchen)
      return one.refuse("leaf", fmt::format("entry {} is of another kitchen, {}", sequence, read->kitchen), as_exported);
    if (!keys_.insert(read->client_key).second)
      return one.refuse("leaf", fmt::format("entry {} has the client key of an earlier one", sequence), as_exported);
    if (const auto digest = store::named_digest(*read)) {
      digests_.emplace(sequence, *digest);
      named_.insert(*digest);
    }
    for (auto& named : store::named_sealed(*read)) hmacs_[named.ref].insert(named.hmac);
    whole.entries.push_back(std::move(read).value());
  }

  std::string bytes(Fields& one) {
    if (one.has("base64")) {
      const std::string text = one.text("base64");
      if (one.has("text")) one.refuse("text", "stands beside base64", as_exported);
      one.any("text");
      auto read = from_base64(text);
      if (!read) one.refuse("base64", "is not base64", as_exported);
      return std::move(read).value_or("");
    }
    one.any("base64");
    return one.text("text");
  }

  void block(Fields& one) {
    const auto note = static_cast<std::uint64_t>(one.integer("note", 1, 9'007'199'254'740'991));
    SealedBlock block{note, bytes(one)};
    const auto named = digests_.find(note);
    if (named == digests_.end() || named->second != sha256(block.bytes))
      return one.refuse("note", fmt::format("entry {} does not seal these readings", note), as_exported);
    if (!blocks_.insert(note).second)
      return one.refuse("note", fmt::format("the readings of entry {} stand there twice", note), as_exported);
    whole.blocks.push_back(std::move(block));
  }

  void sealed(Fields& one) {
    SealedText text;
    text.ref = one.text("ref");
    const auto key = digest_from_hex(one.text("key"));
    text.text = bytes(one);
    if (!key) return one.refuse("key", "is not a key of 64 hexadecimal digits", as_exported);
    text.key = *key;
    const auto named = hmacs_.find(text.ref);
    if (named == hmacs_.end()) return one.refuse("ref", fmt::format("no entry names the words {}", text.ref), as_exported);
    if (named->second != std::set{to_hex(hmac_sha256(text.key, text.text))})
      return one.refuse("ref", fmt::format("the words {} are not those that were sealed", text.ref), as_exported);
    if (!refs_.insert(text.ref).second) return one.refuse("ref", fmt::format("the words {} stand there twice", text.ref), as_exported);
    whole.sealed.push_back(std::move(text));
  }

  void paper(Fields& one) {
    const std::string name = one.text("sha256");
    KeptPaper paper;
    paper.media_type = one.text("media_type");
    auto read = from_base64(one.text("base64"));
    if (!read) return one.refuse("base64", "is not base64", as_exported);
    paper.bytes = *std::move(read);
    paper.digest = sha256(paper.bytes);
    if (to_hex(paper.digest) != name) return one.refuse("base64", "does not have the SHA-256 that stands beside it", as_exported);
    if (!named_.contains(paper.digest)) return one.refuse("sha256", fmt::format("no entry names the paper {}", name), as_exported);
    if (!papers_.insert(paper.digest).second)
      return one.refuse("sha256", fmt::format("the paper {} stands there twice", name), as_exported);
    whole.papers.push_back(std::move(paper));
  }

  /// What could not be opened afterwards is not taken in.
  void check_kinds() {
    std::vector<Note> notes;
    for (const auto& entry : whole.entries) notes.push_back(note_of(entry));
    const auto state = fold(in_force(notes), notes.size(), {});
    if (state) return;
    for (const auto& refusal : state.error())
      refusals_.push_back(
          {file_, 0, refusal.file, refusal.field.empty() ? refusal.message : refusal.field + ": " + refusal.message, refusal.remedy});
  }

  std::string file_;
  Refusals refusals_;
  Fields fields_;
  std::set<std::string> keys_;
  std::map<std::uint64_t, Digest> digests_;
  std::set<Digest> named_;
  std::map<std::string, std::set<std::string>> hmacs_;
  std::set<std::uint64_t> blocks_;
  std::set<std::string> refs_;
  std::set<Digest> papers_;
};

}  // namespace

Result<WholeKitchen> export_kitchen(const RecordStore& store) {
  const auto verified = store.verify(std::nullopt);
  if (!verified.complaints.empty()) {
    Refusals refusals;
    for (const auto& complaint : verified.complaints)
      refusals.push_back({"", 0, "records", complaint, "keep the file as it is, and go back to a backup"});
    return refusals;
  }
  const Append whole = store.whole();
  WholeKitchen out;
  out.head = head_of(whole.entries);
  out.papers = whole.papers.size();
  if (whole.entries.empty()) return Refusal{"", 0, "records", "there is no entry", "begin the kitchen with `start`"};
  out.demo = says_demo(whole.entries.front());
  Json::Array entries;
  for (const auto& entry : whole.entries) {
    std::string leaf = leaf_text(entry);
    const auto hash = to_hex(leaf_hash(leaf));
    entries.push_back(Json{Json::Object{{"leaf", Json{std::move(leaf)}}, {"hash", Json{hash}}}});
  }
  Json::Array blocks;
  for (const auto& block : whole.blocks) {
    Json::Object one{{"note", Json{static_cast<std::int64_t>(block.sequence)}}};
    put_bytes(one, block.bytes);
    blocks.push_back(Json{std::move(one)});
  }
  Json::Array sealed;
  for (const auto& text : whole.sealed) {
    Json::Object one{{"ref", Json{text.ref}}, {"key", Json{to_hex(text.key)}}};
    put_bytes(one, text.text);
    sealed.push_back(Json{std::move(one)});
  }
  Json::Array papers;
  for (const auto& paper : whole.papers) {
    papers.push_back(Json{Json::Object{
        {"sha256", Json{to_hex(paper.digest)}}, {"media_type", Json{paper.media_type}}, {"base64", Json{to_base64(paper.bytes)}}}});
  }
  Json::Object document{{"schema", Json{schema_name}},
                        {"program", Json{"tierproof " TIERPROOF_VERSION}},
                        {"demo", Json{out.demo}},
                        {"kitchen", Json{whole.entries.front().kitchen}},
                        {"head", Json{format_head(out.head)}}};
  document.emplace("entries", std::move(entries));
  document.emplace("blocks", std::move(blocks));
  document.emplace("sealed", std::move(sealed));
  document.emplace("papers", std::move(papers));
  out.document = write_pretty(Json{std::move(document)});
  return out;
}

Result<KitchenTakenIn> import_kitchen(const GivenDocument& document, const std::string& path) {
  const auto json = parse_json(document.text, document.name);
  if (!json) return json.error();
  WholeReader reader{*json, document.name};
  reader.read();
  if (!reader.refusals().empty()) return reader.refusals();
  const auto verified = restore_sqlite(path, reader.kitchen, reader.whole);
  if (!verified.complaints.empty()) {
    Refusals refusals;
    for (const auto& complaint : verified.complaints)
      refusals.push_back({document.name, 0, "", complaint, "take the document as it was exported"});
    return refusals;
  }
  return KitchenTakenIn{verified.head, says_demo(reader.whole.entries.front()), reader.whole.papers.size()};
}

}  // namespace tierproof
