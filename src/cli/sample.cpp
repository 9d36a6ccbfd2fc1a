// aeruca sample: some finds of a site were tested; how many of all may be active.

#include <memory>

#include "aeruca/finds_sample.hpp"
#include "cli/commands.hpp"
#include "render/describe_finds_sample.hpp"
#include "render/finds_sample_text.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

struct SampleRequest {
  int finds = 0, tested = 0, active = 0;
};

}  // namespace

void add_sample(Command& app, Context& context) {
  auto request = std::make_shared<SampleRequest>();
  Command* command =
      app.add_subcommand("sample", "some finds were tested: how many of all may be active");
  command->add_option("--finds", request->finds, "how many there are in all")->required();
  command->add_option("--tested", request->tested, "of these, picked at random")->required();
  command->add_option("--active", request->active, "of the tested, found active")->required();
  command->callback([request, &context] {
    const FindsSample sample = finds_sample(request->finds, request->tested, request->active);
    context.out << (context.json ? detail::document_text(detail::json_of(sample))
                                 : detail::finds_sample_text(sample));
  });
}

}  // namespace aeruca::cli
