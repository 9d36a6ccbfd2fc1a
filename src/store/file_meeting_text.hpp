#pragma once

// Where two files of a joined record overlap or leave a gap, in a sentence.

#include <string>

#include "aeruca/logger.hpp"

namespace aeruca::detail {

std::string file_meeting_text(const FileMeeting& meeting);

}  // namespace aeruca::detail
