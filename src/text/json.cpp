#include "tierproof/text/json.h"

namespace tierproof {

const Json* Json::find(std::string_view key) const {
  const auto& members = object();
  const auto found = members.find(key);
  return found == members.end() ? nullptr : &found->second;
}

Json& Json::operator[](std::string_view key) {
  if (is_null()) held_ = Object{};
  auto& members = object();
  const auto found = members.find(key);
  return found != members.end() ? found->second : members.emplace(std::string{key}, Json{}).first->second;
}

}  // namespace tierproof
