// aeruca store box: the humidity in a box, how long until a limit, how much gel, when to look again.

#include <memory>

#include "cli/box_request.hpp"
#include "render/enclosure_report.hpp"

namespace aeruca::cli {
namespace {

void run(BoxRequest& request, Context& context) {
  request.read.workbook = context.workbook;
  const auto dataset = context.dataset();
  const ReviewedBox answer = review_box(request, *dataset);
  if (!answer.review) {
    context.err << detail::exchange_text(*answer.fit);
    context.exit_code = kNoAnswer;
    return;
  }
  context.out << (context.json ? detail::enclosure_json(*answer.review, answer.fit, *dataset)
                               : detail::enclosure_text(*answer.review, answer.fit));
  if (answer.review->forecast.status != Status::converged) context.exit_code = kNoAnswer;
}

}  // namespace

Command* add_store_box(Command& store, Context& context) {
  auto request = std::make_shared<BoxRequest>();
  Command* command = store.add_subcommand(
      "box", "humidity in a box, a bag or a case: days to a limit, mass of gel, date of a visit");
  add_box_options(*command, *request, BoxStands::alone);
  command->callback([request, &context] { run(*request, context); });
  return command;
}

}  // namespace aeruca::cli
