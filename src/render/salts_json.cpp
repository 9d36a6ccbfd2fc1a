#include "aeruca/nantokite.hpp"
#include "render/describe_brine.hpp"
#include "render/describe_hydration.hpp"
#include "render/describe_nantokite.hpp"
#include "render/json.hpp"
#include "render/salts_text.hpp"

namespace aeruca::detail {

std::string onset_json(const Dataset& dataset) {
  return document_text({{"nantokite", json_of(nantokite_in_air(dataset))},
                        {"onset_bands", json_of(dataset.onset_bands)},
                        {"data_set", data_set_json(dataset)}});
}

std::string solution_json(const SaltSolution& solution, const Dataset& dataset) {
  return document_text({{"solution", json_of(solution)}, {"data_set", data_set_json(dataset)}});
}

std::string salt_json(const Deliquescence& salt, const std::vector<HydrationChange>& hydration,
                      const Dataset& dataset) {
  return document_text({{"salts", json_of(std::vector<Deliquescence>{salt})},
                        {"hydration_changes", json_of(hydration)},
                        {"data_set", data_set_json(dataset)}});
}

std::string salts_json(const std::vector<Deliquescence>& salts, const Dataset& dataset) {
  return document_text({{"salts", json_of(salts)}, {"data_set", data_set_json(dataset)}});
}

}  // namespace aeruca::detail
