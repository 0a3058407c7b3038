#pragma once

#include <string>

#include "visit.h"

namespace tierproof::web {

// Answers to scripts.

WebAnswer api_told(Json::Object members, int status = 200);
WebAnswer api_failed(int status, const std::string& message);
/// 422, with every field that is wrong and what to write.
WebAnswer api_refused(const Refusals& refusals);
/// The members that every view begins with: its schema, the head of the records, and whether they are a demo's.
Json::Object api_headed(Visit& visit, const char* schema);

}  // namespace tierproof::web
