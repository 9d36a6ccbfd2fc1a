#include "store/file_meeting_text.hpp"

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

std::string file_meeting_text(const FileMeeting& meeting) {
  if (meeting.kind == FileMeetingKind::seam) {
    const auto seconds = static_cast<double>(meeting.to_s - meeting.from_s);
    return say("record.seam", {{"earlier", meeting.earlier},
                               {"later", meeting.later},
                               {"from", format_time(meeting.from_s)},
                               {"to", format_time(meeting.to_s)},
                               {"hours", format_number(seconds / 3600, 4)}});
  }
  return say("record.overlap", {{"earlier", meeting.earlier},
                                {"later", meeting.later},
                                {"from", format_time(meeting.from_s)},
                                {"to", format_time(meeting.to_s)},
                                {"agreeing", std::to_string(meeting.agreeing)},
                                {"disagreeing", std::to_string(meeting.disagreeing)},
                                {"between", std::to_string(meeting.between)}});
}

}  // namespace aeruca::detail
