#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "access_inside.h"
#include "access_secrets.h"

namespace tierproof {
namespace {

constexpr std::int64_t misses_free = 5;   // in a row, before the next try waits
constexpr std::int64_t misses_most = 10;  // in a row, before a person waits for an owner
constexpr Span first_wait = std::chrono::seconds{30};
constexpr Span longest_wait = std::chrono::hours{1};  // of a device, which nobody unlocks
constexpr std::size_t longest_person = 64;            // of an id: nobody fills the file with names
constexpr Span idle_most = std::chrono::minutes{10};
constexpr Span signed_in_most = std::chrono::hours{12};
constexpr Span page_anew = std::chrono::minutes{1};  // how finely the store keeps when somebody had a page

/// How long the next try waits after so many misses in a row.
Span wait_after(std::int64_t misses) {
  if (misses < misses_free) return Span{0};
  const auto doublings = std::min<std::int64_t>(misses - misses_free, 20);
  return std::min(longest_wait, first_wait * (std::int64_t{1} << doublings));
}

std::string told_by(const std::string& by) { return by.empty() ? "" : "by " + by; }

std::string misses_of_person(const std::string& person) { return "person " + person; }
std::string misses_of_device(std::int64_t device) { return fmt::format("device {}", device); }

/// Told of a wrong PIN, of somebody without one, and of somebody whom nobody knows.
SignInRefused refused_try(Span wait) {
  return {"the name or the PIN is not right", "try again, or let an owner set a new PIN: tierproof pin PERSON", wait, false};
}
SignInRefused refused_locked(Span wait) {
  return {"ten PINs in a row were wrong", "an owner lets you try again: tierproof unlock PERSON", wait, true};
}
SignInRefused refused_early(Span wait) {
  const Span whole = std::chrono::ceil<std::chrono::seconds>(wait);
  return {fmt::format("too many wrong PINs: the next try counts in {}", format_span(whole)), "wait, or try then", wait, false};
}

/// Its form token: of the sign-in, and no way back to the token.
std::string form_token_of(std::string_view token) {
  const Digest made = hmac_sha256(sha256(token), "form");
  return to_hex(made);
}

}  // namespace

std::string Access::Inside::hash_of(const std::string& person, std::string_view pin, const PinRow& by) const {
  const Digest peppered = hmac_sha256(pepper, fmt::format("{}\n{}", person, pin));
  return argon2id({reinterpret_cast<const char*>(peppered.data()), peppered.size()}, by.salt, {by.passes, by.memory_kib}, 32);
}

std::optional<SignInRefused> Access::Inside::try_pin(std::int64_t device, const std::string& person, std::string_view pin, Instant now,
                                                     const std::function<bool(AccessStore&)>& then) {
  const std::string of_person = misses_of_person(person);
  const std::string of_device = misses_of_device(device);
  std::optional<SignInRefused> refused;
  std::optional<PinRow> kept;
  Span wait{0};
  bool last = false;
  change([&](AccessStore& rows) {
    MissCount by_person = person.empty() ? MissCount{} : rows.misses(of_person);
    MissCount by_device = rows.misses(of_device);
    const auto left = [&](const MissCount& count) {  // never more than its due, though the clock was put back since
      return std::clamp<Span>(count.not_before - now, Span{0}, wait_after(count.in_a_row));
    };
    wait = std::max(left(by_person), left(by_device));
    if (by_person.in_a_row >= misses_most) {
      refused = refused_locked(wait);
    } else if (wait > Span{0}) {
      refused = refused_early(wait);
    } else {
      for (MissCount* count : {&by_person, &by_device}) {
        ++count->in_a_row;
        count->not_before = now + wait_after(count->in_a_row);
      }
      if (!person.empty()) rows.put_misses(of_person, by_person);
      rows.put_misses(of_device, by_device);
      wait = std::max(left(by_person), left(by_device));
      last = by_person.in_a_row >= misses_most;
      if (!person.empty()) kept = rows.pin(person);
    }
  });
  if (refused) return refused;

  const PinRow compared = kept.value_or(PinRow{std::string(16, '\0'), std::string(32, '\0'), HashCost{}.passes, HashCost{}.memory_kib, {}});
  const bool same = same_secret(hash_of(person, pin, compared), compared.hash);
  change([&](AccessStore& rows) {
    const auto now_kept = rows.pin(person);  // it may have been changed, or the device shut out, while we compared
    const auto row = rows.device(device);
    const bool let_in = row && !row->shut_out;
    if (same && kept && now_kept && now_kept->hash == kept->hash && let_in && then(rows)) {
      rows.put_misses(of_person, {});
      rows.put_misses(of_device, {});
      return;
    }
    refused = last ? refused_locked(wait) : refused_try(wait);
    rows.add_happening({now, "wrong PIN", id_of_device(device), person, ""});
    if (last) rows.add_happening({now, "locked", id_of_device(device), person, ""});
  });
  return refused;
}

std::optional<Refusal> Access::refused_pin(std::string_view pin) {
  const auto why = blocked_pin(pin);
  if (!why) return std::nullopt;
  return Refusal{"", 0, "PIN", *why, "choose six digits that nobody guesses"};
}

Refusals Access::set_pin(const std::string& person, std::string_view pin, Instant now, const std::string& by) {
  if (auto refused = refused_pin(pin)) return {std::move(*refused)};
  PinRow row{secret_bytes(16), "", HashCost{}.passes, HashCost{}.memory_kib, now};
  row.hash = inside_->hash_of(person, pin, row);
  inside_->change([&](AccessStore& store) {
    store.put_pin(person, row);
    store.put_misses(misses_of_person(person), {});
    store.end_sign_ins_of(person);
    store.add_happening({now, "PIN set", "", person, told_by(by)});
  });
  return {};
}

bool Access::has_pin(const std::string& person) const {
  return inside_->ask<bool>([&](const AccessStore& store) { return store.pin(person).has_value(); });
}

bool Access::is_locked(const std::string& person) const {
  return inside_->ask<bool>([&](const AccessStore& store) { return store.misses(misses_of_person(person)).in_a_row >= misses_most; });
}

void Access::unlock(const std::string& person, Instant now, const std::string& by) {
  inside_->change([&](AccessStore& store) {
    store.put_misses(misses_of_person(person), {});
    store.add_happening({now, "unlocked", "", person, told_by(by)});
  });
}

std::variant<std::string, SignInRefused> Access::sign_in(const Device& device, const std::string& person, std::string_view pin,
                                                         Authority authority, Instant now) {
  assert(authority == Authority::owner || authority == Authority::helper);
  const auto number = number_in_id("device-", device.id);
  if (!number) return refused_try(Span{0});
  const std::string token = new_token();
  const std::string tried = person.size() > longest_person ? "" : person;
  const auto refused = inside_->try_pin(*number, tried, pin, now, [&](AccessStore& store) {
    store.end_sign_ins_since_before(now - signed_in_most);
    std::erase_if(inside_->pages, [&](const auto& page) { return page.second < now - signed_in_most; });
    store.end_sign_ins_on(*number);
    store.add_sign_in({sha256(token), *number, person, std::string{word_of(authority)}, now, now});
    store.add_happening({now, "signed in", device.id, person, ""});
    return true;
  });
  if (refused) return *refused;
  return token;
}

std::optional<SignInRefused> Access::confirm(const SignedIn& who, std::string_view pin, Instant now) {
  const auto number = number_in_id("device-", who.device);
  if (!number || who.person.empty()) return refused_try(Span{0});
  const auto refused = inside_->try_pin(*number, who.person, pin, now, [](AccessStore&) { return true; });
  if (refused && refused->locked) inside_->change([&](AccessStore& store) { store.end_sign_ins_on(*number); });
  return refused;
}

std::string Access::open_for_officer(const SignedIn& owner, Instant now) {
  const auto number = number_in_id("device-", owner.device);
  if (!number || owner.authority != Authority::owner) throw Fault{exit_status::our_bug, "an officer's view that no owner opens"};
  const std::string token = new_token();
  inside_->change([&](AccessStore& store) {
    store.end_sign_ins_on(*number);
    store.add_sign_in({sha256(token), *number, "", std::string{word_of(Authority::officer)}, now, now});
    store.add_happening({now, "officer's view", owner.device, owner.person, ""});
  });
  return token;
}

std::optional<SignedIn> Access::who(std::string_view token, const Device& device, Instant now, bool touch) {
  const Digest shown = sha256(token);
  const auto number = number_in_id("device-", device.id);
  struct Found {
    SignInRow row;
    DeviceRow on;
    bool over = false;
    bool to_keep = false;  ///< its last page, in the store
  };
  const auto found = inside_->ask<std::optional<Found>>([&](const AccessStore& store) -> std::optional<Found> {
    const auto row = store.sign_in(shown);
    if (!row || !same_secret(row->token, shown) || row->device != number) return std::nullopt;
    const auto on = store.device(row->device);
    if (!on || on->shut_out) return std::nullopt;
    const auto page = inside_->pages.find(shown);
    const Instant last = page == inside_->pages.end() ? row->last_page : std::max(page->second, row->last_page);
    const bool idle = !row->person.empty() && now - last >= idle_most;
    if (idle || now - row->since >= signed_in_most) return Found{*row, *on, true, false};
    if (touch) inside_->pages.insert_or_assign(shown, std::max(now, last));
    return Found{*row, *on, false, touch && now - row->last_page >= page_anew};
  });
  if (!found) return std::nullopt;
  const SignInRow& row = found->row;
  if (found->over) inside_->change([&](AccessStore& store) { store.end_sign_in(shown); });
  if (found->over) return std::nullopt;
  if (found->to_keep) inside_->change([&](AccessStore& store) { store.saw_page(shown, now); });
  SignedIn who;
  who.device = device.id;
  who.device_name = found->on.name;
  who.person = row.person;
  who.authority = Authority::officer;  // what is not known to be more only reads
  for (const Authority authority : {Authority::owner, Authority::helper}) {
    if (!row.person.empty() && row.authority == word_of(authority)) who.authority = authority;
  }
  who.form_token = form_token_of(token);
  who.since = row.since;
  return who;
}

void Access::sign_out(std::string_view token, Instant now) {
  const Digest shown = sha256(token);
  inside_->change([&](AccessStore& store) {
    const auto row = store.sign_in(shown);
    if (!row) return;
    store.end_sign_in(shown);
    store.add_happening({now, "signed out", id_of_device(row->device), row->person, ""});
  });
}

void Access::sign_out_everywhere(const std::string& person, Instant now) {
  inside_->change([&](AccessStore& store) {
    store.end_sign_ins_of(person);
    store.add_happening({now, "signed out", "", person, "everywhere"});
  });
}

}  // namespace tierproof
