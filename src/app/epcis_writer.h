#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/text/json_writer.h"

namespace tierproof::epcis {

/// `cake-7`; `pack-3` or `batch-2`, which are lots: what comes out of a sack or a bowl has no number of its own.
bool is_cake(std::string_view subject);
bool is_lot(std::string_view subject);

/// The names that things go by outside the kitchen: opaque, and the same for ever. What somebody in the kitchen named, a place or a
/// supplier, goes by a hash of that, since its name may tell something.
/// @source CBV 2.0 section 8, private URIs /obj/, /class/, /loc/, /xform/ on a domain of one's own (from memory)
class Names {
 public:
  Names(const std::string& domain, std::string kitchen, bool demo);
  std::string thing(std::string_view id) const { return named("obj", id); }
  std::string lot(std::string_view id) const { return named("class", id); }
  std::string making(std::string_view id) const { return named("xform", id); }
  std::string step(std::string_view id) const { return named("bizstep", id); }
  std::string customer(std::string_view cake) const { return named("party", std::string{"customer-of-"} + std::string{cake}); }
  std::string kitchen() const { return named("loc", "kitchen"); }
  std::string location(std::string_view place) const { return named("loc", hashed("place", place)); }
  std::string party(std::string_view what, std::string_view id) const { return named("party", hashed(what, id)); }
  std::string hashed_thing(std::string_view what, std::string_view id) const { return named("obj", hashed(what, id)); }
  /// Of the event of one note: a UUID of version 8 (RFC 9562 5.8), from the SHA-256 of the kitchen's own UUID and the note's number.
  std::string event(std::uint64_t note) const;

 private:
  std::string named(std::string_view sort, std::string_view id) const;
  std::string hashed(std::string_view what, std::string_view id) const;
  std::string base_;
  std::string kitchen_;
};

/// So much of a lot; nothing: it is not said how much.
struct Quantity {
  std::string of;
  std::optional<Mass> mass;
};

/// Writes the events of one document. Quantities are exact: whole milligrams as decimals of a gram or a kilogram.
class Writer {
 public:
  Writer(const Names& names, Instant created, Offset offset);
  /// What took back the notes that are told from now on; null: nothing did.
  void declare_error(const Note* by) { taken_back_by_ = by; }
  void begin(std::string_view type, const Note& note);
  Writer& word(std::string_view member, std::string_view text);
  void uris(std::string_view member, const std::vector<std::string>& list);          ///< an empty list is left out
  void quantities(std::string_view member, const std::vector<Quantity>& list);       ///< the same
  void one_piece(std::string_view member, std::string_view of);                      ///< one piece of a class
  void place(std::string_view location);                                             ///< where it was seen, and where it then is
  void party(std::string_view list, std::string_view member, std::string_view who);  ///< who owned it before, or owns it then
  void lot_particulars(const std::string& code, std::optional<Date> use_by, std::optional<Date> best_before);
  void persistent(std::string_view disposition);
  void reading(Degrees degrees);
  /// The least, the mean to the hundredth, the greatest and the last reading of each scale, marked as an error where there were faults
  /// among them; of faults alone only that.
  /// @pre at least one reading
  void readings(const std::vector<LoggedReading>& readings, Offset offset, std::string_view device);
  void end() { json_.end(); }
  std::int64_t events() const { return events_; }
  std::string text();  ///< closes the document

 private:
  const Names& names_;
  const Note* taken_back_by_ = nullptr;
  std::int64_t events_ = 0;
  std::string text_;
  JsonWriter json_;
};

}  // namespace tierproof::epcis
