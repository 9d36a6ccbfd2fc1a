#include "render/questions_text.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/json.hpp"

namespace aeruca::detail {
namespace {

// Keys of the question and of its answer, or of the reason for none; and the command, if any.
struct Question {
  std::string_view question;
  std::string_view command;
  std::string_view answer;
};

// In the order of what practitioners ask most, and of what hangs on it.
constexpr std::array<Question, 30> kQuestions{{
    {"question.active", "aeruca case my-object.toml", "question.active.answer"},
    {"question.stop", "aeruca bath decide my-baths.csv --object-mass-g 62 --target-mg-per-g 0.4",
     "question.stop.answer"},
    {"question.dry", "aeruca store my-logger.csv --onset scott-1990", "question.dry.answer"},
    {"question.gel",
     "aeruca store box --volume 0.05 --exchange 0.5 --start 20 --outside-rh 60 --temperature 20 "
     "--limit 40",
     "question.gel.answer"},
    {"question.grams",
     "aeruca bath weigh-out --salt sesquicarbonate --percent 1 --volume-l 5 --purity-percent 99.5",
     "question.grams.answer"},
    {"question.left", "aeruca bath decide my-baths.csv --object-mass-g 62", "question.left.answer"},
    {"question.patina", "aeruca bath chemistry --percent 1 --object-mass-g 62",
     "question.patina.answer"},
    {"question.again", "aeruca case my-object.toml", "question.again.answer"},
    {"question.sees", "aeruca bath decide my-baths.csv", "question.sees.answer"},
    {"question.meter", "aeruca bath meter --conductivity-us-per-cm 12 --blank-us-per-cm 2",
     "question.meter.answer"},
    {"question.change", "aeruca bath plan my-baths.csv --days 60", "question.change.answer"},
    {"question.inhibitor", "", "question.inhibitor.reason"},
    {"question.safer", "", "question.safer.reason"},
    {"question.meters", "aeruca store my-logger.csv --check bischofite=35.1 --check-temperature 21",
     "question.meters.answer"},
    {"question.diagram", "aeruca fields --set \"Cl(-)=-2\"", "question.diagram.answer"},
    {"question.sodium", "", "question.sodium.reason"},
    {"question.alike", "aeruca sample --finds 200 --tested 20 --active 0", "question.alike.answer"},
    {"question.leaky",
     "aeruca store box --volume 0.05 --exchange 2 --start 20 --outside-rh 60 --temperature 20 "
     "--limit 40",
     "question.leaky.answer"},
    {"question.infects", "", "question.infects.reason"},
    {"question.warming", "", "question.warming.reason"},
    {"question.field",
     "aeruca bath chemistry --percent 1 --water-chloride-mg-per-l 30 "
     "--water-chloride-error-mg-per-l 5",
     "question.field.answer"},
    {"question.composite", "", "question.composite.reason"},
    {"question.heating",
     "aeruca bath plan my-baths.csv --days 60 --temperature 35 --log-temperature 18",
     "question.heating.answer"},
    {"question.tap",
     "aeruca bath chemistry --percent 1 --form anhydrous --water-chloride-mg-per-l 30 "
     "--reagent-chloride-percent 0.01",
     "question.tap.answer"},
    {"question.class", "aeruca class coin_in_salt_water --groups 8", "question.class.answer"},
    {"question.coins", "aeruca class coins", "question.coins.answer"},
    {"question.logging", "aeruca bath log my-baths.csv --json", "question.logging.answer"},
    {"question.untended",
     "aeruca store box --volume 0.05 --exchange 0.5 --gel-kg 0.5 --start 20 --outside-rh 60 "
     "--temperature 20 --limit 40",
     "question.untended.answer"},
    {"question.vapours", "aeruca minerals --seen colour=blue-green --seen cold-water=dissolves",
     "question.vapours.answer"},
    {"question.disposal", "aeruca bath chemistry --percent 1 --volume-l 5 --metal lead",
     "question.disposal.answer"},
}};

}  // namespace

std::string questions_text(std::size_t width) {
  std::string text = paragraph(say("question.heading"), width) + '\n';
  std::size_t number = 0;
  for (const Question& one : kQuestions) {
    const std::string place = std::to_string(++number);
    text += paragraph(say(one.question), width, std::string(3 - place.size(), ' ') + place + " ");
    if (one.command.empty()) {
      text += paragraph(say("question.none", {{"reason", say(one.answer)}}), width, "      ");
    } else {
      // A command is copied: never broken.
      text += "      " + std::string(one.command) + '\n';
      text += paragraph(say(one.answer), width, "      ");
    }
  }
  const auto answered = std::count_if(kQuestions.begin(), kQuestions.end(),
                                      [](const Question& one) { return !one.command.empty(); });
  return text + '\n' +
         say("question.count",
             {{"answered", std::to_string(answered)}, {"all", std::to_string(kQuestions.size())}}) +
         '\n';
}

std::string questions_json() {
  Json list = Json::array();
  for (const Question& one : kQuestions) {
    list.push_back({{"question", say(one.question)},
                    {"command", one.command.empty() ? Json(nullptr) : Json(one.command)},
                    {"answer", say(one.answer)}});
  }
  return document_text({{"questions", list}});
}

}  // namespace aeruca::detail
