#include "aeruca/errors.hpp"
#include "aeruca/render.hpp"
#include "base/capitals.hpp"
#include "base/localised.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "render/page.hpp"

namespace aeruca {
namespace detail {
namespace {

void print_box(Page& page, const SheetBox& box) {
  page.line();
  std::string first = capitals(localised(box.verdict));
  if (!box.figure.empty()) {
    first += ": " + localised(box.figure);
    if (!box.figure_of.empty()) first += " (" + box.figure_of + ")";
  }
  page.line(box.title);
  page.say(first, "  ");
  if (!box.sentences.empty()) page.say(join(box.sentences, " "), "  ");
}

}  // namespace

void print_object(Page& page, const CaseAssessment& assessment) {
  const CaseObject& object = assessment.file.object;
  page.rule('=');
  page.say(object.name.empty() ? say("page.no_name") : object.name);
  if (assessment.file.invented) page.say(say("page.invented"));
  if (!object.material.empty()) page.say(say("page.material", {{"material", object.material}}));
  page.say(say("page.assessed",
               {{"date", (assessment.date.empty() ? say("page.no_date") : assessment.date)},
                {"file", assessment.file.path}}));
  page.rule('=');
}

void print_front(Page& page, const FrontSheet& sheet) {
  for (const SheetBox& box : sheet.boxes) print_box(page, box);
  page.line();
  if (!sheet.measure.empty()) page.line(say("front.heading.measure"));
  for (std::size_t i = 0; i < sheet.measure.size(); ++i)
    page.say(sheet.measure[i], "  " + std::to_string(i + 1) + ". ");
  page.line();
  page.say(sheet.caution, say("front.heading.caution") + ": ");
  if (const std::string unread = say("language.unreviewed"); !unread.empty()) page.say(unread);
}

}  // namespace detail

std::string front_text(const CaseAssessment& assessment, int width) {
  if (width < 60 || width > 200) throw InputError("width", width, "60 to 200 columns");
  detail::Page page(static_cast<std::size_t>(width));
  detail::print_object(page, assessment);
  detail::print_front(page, assessment.front);
  page.line();
  // Of what failed the reason must not wait for the whole text.
  for (const CaseSection& section : assessment.sections) {
    if (section.status == SectionStatus::no_answer || section.status == SectionStatus::bad_input)
      page.say(section.title + ": " + section.answer, "! ");
  }
  page.say(detail::say("front.foot", {{"file", assessment.file.path}}));
  page.say(detail::say("front.foot_report", {{"file", assessment.file.path}}));
  return std::move(page).text();
}

}  // namespace aeruca
