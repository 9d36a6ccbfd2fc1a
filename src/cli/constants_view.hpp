#pragma once

// How `aeruca constants` shows what it found.

#include <ostream>
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace aeruca::cli {

struct ConstantsRequest {
  std::vector<std::string> words;
  std::string species;
  std::string quantity;
  std::string basis;
  bool chosen = false;
  bool all = false;
  bool sources = false;

  [[nodiscard]] bool is_empty() const {
    return words.empty() && species.empty() && quantity.empty() && basis.empty() && !chosen && !all;
  }
};

/// The quantities that figures speak of, each once.
std::vector<std::string> quantities(const Dataset& dataset);

void print_summary(const Dataset& dataset, std::ostream& out);
void print_figures(const Dataset& dataset, const ConstantsRequest& request,
                   const std::vector<const Figure*>& figures, Context& context);
void print_sources(const Dataset& dataset, const ConstantsRequest& request, Context& context);

}  // namespace aeruca::cli
