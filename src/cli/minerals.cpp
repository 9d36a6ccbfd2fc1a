// aeruca minerals: the guide to what is found on copper alloys, and what a lifted grain may be.

#include <memory>

#include "aeruca/minerals.hpp"
#include "cli/commands.hpp"
#include "render/minerals_text.hpp"

namespace aeruca::cli {
namespace {

struct Request {
  std::string mineral;
  std::vector<std::string> seen;
};

void run(const Request& request, Context& context) {
  const auto dataset = context.dataset();
  if (!request.mineral.empty() && !request.seen.empty())
    throw UsageError("minerals", "a mineral by name goes with no --seen");
  if (!request.seen.empty()) {
    const MineralIdentification found = identify_mineral(*dataset, request.seen);
    context.out << (context.json ? detail::identification_json(found, *dataset)
                                 : detail::identification_text(found, *dataset));
  } else if (!request.mineral.empty()) {
    const Mineral& mineral = dataset->mineral(request.mineral);
    context.out << (context.json ? detail::mineral_json(mineral, *dataset)
                                 : detail::mineral_text(mineral, *dataset));
  } else {
    context.out << (context.json ? detail::guide_json(*dataset) : detail::guide_text(*dataset));
  }
}

}  // namespace

void add_minerals(Command& app, Context& context) {
  auto request = std::make_shared<Request>();
  Command* command =
      app.add_subcommand("minerals", "what a lifted grain may be, and what it says of activity");
  command->add_option("mineral", request->mineral, "one mineral of the guide, such as nantokite");
  command
      ->add_option("--seen", request->seen,
                   "an outcome of a field test, such as colour=pale-green, powdery, "
                   "silver-nitrate=cloud, acid=fizz, cold-water=dissolves, waxy; repeatable")
      ->repeatable();
  command->callback([request, &context] { run(*request, context); });
}

}  // namespace aeruca::cli
