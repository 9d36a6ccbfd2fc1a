// aeruca questions: what practitioners ask, and the command that answers.

#include <memory>

#include "cli/commands.hpp"
#include "render/questions_text.hpp"

namespace aeruca::cli {

void add_questions(Command& app, Context& context) {
  constexpr std::size_t kWidth = 100;
  Command* command =
      app.add_subcommand("questions", "what conservators ask, and the command that answers");
  command->callback([&context] {
    context.out << (context.json ? detail::questions_json() : detail::questions_text(kWidth));
  });
}

}  // namespace aeruca::cli
