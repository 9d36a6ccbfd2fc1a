#pragma once

// The cases of a collection as text, JSON, CSV and a page.

#include <string>

#include "aeruca/case_collection.hpp"

namespace aeruca::detail {

/// The objects in at most `width` columns (60 to 200, else InputError), and every case file that
/// could not be used. `all_in`: the files that list all, so that ten do here; empty: there is none.
std::string case_collection_text(const CaseCollection& collection, int width,
                                 const std::string& all_in = {});
std::string case_collection_json(const CaseCollection& collection);
/// All objects, a row each.
std::string case_collection_csv(const CaseCollection& collection);
/// One page that needs no other file: a table of all objects, for a screen and for paper.
std::string case_collection_html(const CaseCollection& collection);

}  // namespace aeruca::detail
