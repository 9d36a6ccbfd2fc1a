#include "render/mixture_chart.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <vector>

#include "base/text_table.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr double kColumn = 2;    // % RH
constexpr int kColumns = 50;     // to 100 % RH
constexpr int kLabelEvery = 10;  // columns
constexpr std::size_t kNameWidth = 18;

// The last state within each column; null where there is none. What stands for less than a column may
// be left out: the windows above tell it.
std::vector<const MixtureState*> columns_of(const MixtureSweep& sweep) {
  std::vector<const MixtureState*> columns(kColumns, nullptr);
  for (const MixtureState& state : sweep.states) {
    const auto place = static_cast<std::size_t>(
        std::clamp(std::floor(state.rh_percent / kColumn), 0.0, kColumns - 1.0));
    columns[place] = &state;
  }
  return columns;
}

// By the humidity at which they are last seen.
std::vector<std::string> solids_of(const MixtureSweep& sweep) {
  std::map<std::string, double> last;
  for (const MixtureState& state : sweep.states) {
    for (const auto& [name, moles] : state.solids) last[name] = state.rh_percent;
  }
  std::vector<std::string> names;
  names.reserve(last.size());
  for (const auto& [name, rh] : last) names.push_back(name);
  std::stable_sort(names.begin(), names.end(),
                   [&](const auto& a, const auto& b) { return last[a] < last[b]; });
  return names;
}

std::string row(const std::string& name, const std::vector<const MixtureState*>& columns,
                const std::function<bool(const MixtureState&)>& there) {
  std::string marks;
  for (const MixtureState* state : columns) {
    if (state == nullptr)
      marks += ' ';
    else if (state->status != Status::converged)
      marks += '?';
    else
      marks += there(*state) ? '#' : '.';
  }
  marks.erase(marks.find_last_not_of(' ') + 1);
  return "  " + padded(name, kNameWidth) + marks + "\n";
}

std::string scale() {
  std::string text = "  " + padded("% RH", kNameWidth);
  for (int column = 0; column < kColumns; column += kLabelEvery)
    text += padded(std::to_string(static_cast<int>(kColumn) * column), kLabelEvery);
  return text.erase(text.find_last_not_of(' ') + 1) + "\n";
}

}  // namespace

std::string mixture_chart(const MixtureSweep& sweep) {
  if (sweep.states.empty()) return {};
  const auto columns = columns_of(sweep);
  std::string text = scale();
  for (const std::string& name : solids_of(sweep))
    text += row(name, columns,
                [&name](const MixtureState& state) { return state.solids.contains(name); });
  return text + row(say("page.mixture.brine"), columns,
                    [](const MixtureState& state) { return state.brine; });
}

}  // namespace aeruca::detail
