#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "kitchen_of_pages.h"
#include "web/html.h"

namespace tierproof::web {

class Pages : public testing::Test {
 protected:
  KitchenOfPages kitchen;
};

/// Values of the hidden or other fields of a page whose names begin so, in order.
inline std::vector<std::string> names_on(const std::string& page, const std::string& begin) {
  std::vector<std::string> names;
  const std::string before = "name=\"" + begin;
  for (std::size_t at = page.find(before); at != std::string::npos; at = page.find(before, at + 1)) {
    const auto from = at + 6;
    names.push_back(page.substr(from, page.find('"', from) - from));
  }
  return names;
}

/// What the form of a page says that it showed, as it is posted: `&shown=cake-2`.
inline std::string shown_on(const std::string& page) {
  std::string fields;
  const std::string before = "name=\"shown\" value=\"";
  for (std::size_t at = page.find(before); at != std::string::npos; at = page.find(before, at + 1)) {
    const auto from = at + before.size();
    fields += "&shown=" + url_part(page.substr(from, page.find('"', from) - from));
  }
  return fields;
}

/// A kitchen in which one cake of one sponge is built, by the pages alone.
class ACake : public Pages {
 protected:
  void SetUp() override {
    kitchen.sign_in("ada");
    done("/cupboard/new", "name=plain+flour&supplier-name=The+Shop&supplier-address=2+High+Street&egg=none");
    done(
        "/cupboard/says/plain-flour",
        "document=" +
            url_part(
                R"({"ingredient":"plain-flour","supplier":"the-shop","label_name":"flour","storage":"room","checked":"2026-05-01","checked_against":"the pack"})") +
            "&text=wheat+flour&whole=yes&" + answers("contains"));
    done("/cupboard/in", "ingredient=plain-flour&supplier=the-shop&code=F1&mass=1000&best-before=2026-12-31");
    done("/bench/kit", "name=tin");
    done("/bench/new",
         "name=sponge&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-days=3&life-reason=decided+by+"
         "the+maker&kit=tin");
    done("/bench/make", "recipe=sponge&times=1&yield=199");
    done("/leaving/new",
         "name=Sponge&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=none&of=the+customer");
    done("/leaving/tier", "cake=cake-1&tier=only&part-batch-1=199");
  }
  void done(const std::string& path, const std::string& fields) {
    const auto answer = kitchen.post(path, fields);
    ASSERT_EQ(answer.status, 303) << path << "\n" << answer.body.substr(answer.body.find("<main"), 3000);
  }
  /// The answer to each allergen of the law: `gluten` for wheat, nothing for the others.
  std::string answers(const std::string& gluten) {
    std::string fields;
    const auto terms = kitchen.packs->label_terms("gb", parse_date("2026-05-01").value());
    for (const auto& allergen : terms->allergens)
      fields += "allergen-" + url_part(allergen.key) + "=" + (allergen.key == "gluten:wheat" ? url_part(gluten) : "not+said") + "&";
    return fields;
  }
  std::string seen(Span ago = Span{1}) {
    return std::to_string(kitchen.notes()) + "%3A" + std::to_string((kitchen.site->now() - ago).time_since_epoch().count());
  }
  /// A release with a reason for everything that asks for one.
  std::string release(const std::string& when, const std::string& pin) {
    std::string fields = "form=release&cake=cake-1&seen=" + when + "&pin=" + pin;
    for (const auto& name : names_on(kitchen.get("/leaving/cake/cake-1").body, "against-"))
      fields += "&" + url_part(name) + "=looked+at+by+me";
    const auto answer = kitchen.post("/leaving/release", fields);
    return answer.status == 303 ? "released" : answer.body;
  }
};

}  // namespace tierproof::web
