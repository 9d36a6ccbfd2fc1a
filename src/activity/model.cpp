#include <array>
#include <utility>

#include "activity/models.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

constexpr std::array<std::pair<ActivityModel, std::string_view>, 4> kNames = {{
    {ActivityModel::ideal, "ideal"},
    {ActivityModel::dilute, "dilute"},
    {ActivityModel::sit, "sit"},
    {ActivityModel::pitzer, "pitzer"},
}};

}  // namespace

std::string_view to_string(ActivityModel model) {
  for (const auto& [value, name] : kNames) {
    if (value == model) return name;
  }
  return "unknown";
}

ActivityModel activity_model_from(std::string_view name) {
  std::vector<std::string> known;
  for (const auto& [value, text] : kNames) {
    if (text == name) return value;
    known.emplace_back(text);
  }
  throw UnknownName("activity model", std::string(name), detail::nearest_name(name, known));
}

std::unique_ptr<Activity> make_activity(ActivityModel model, const Dataset& dataset,
                                        std::span<const std::string> species,
                                        double temperature_c) {
  if (!(temperature_c >= 0 && temperature_c <= 50)) {  // NaN too: a model has one temperature
    throw InputError("temperature_c", temperature_c, "0 to 50 degrees C");
  }
  switch (model) {
    case ActivityModel::ideal:
      return detail::make_ideal(dataset, species);
    case ActivityModel::dilute:
      return detail::make_dilute(dataset, species, temperature_c);
    case ActivityModel::sit:
      return detail::make_sit(dataset, species, temperature_c);
    case ActivityModel::pitzer:
      return detail::make_pitzer(dataset, species, temperature_c);
  }
  throw InputError("model", static_cast<double>(model), "ideal, dilute, sit or pitzer");
}

}  // namespace aeruca
