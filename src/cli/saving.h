#pragma once

#include <string>

#include "door.h"
#include "tierproof/app/issuing.h"

namespace tierproof::cli {

/// Makes the folder that papers go to, before one of them is booked. @throws Fault 73
void make_folder(const std::string& folder);

/// Writes the forms of a paper that was booked into `folder` as `name.pdf`, `name.png`, `name.json`, and says where each is kept.
/// @throws Fault 73, with how to get the kept bytes
int save_papers(const Door& door, const Session& session, const Issued& issued, const std::string& folder, const std::string& name);

}  // namespace tierproof::cli
