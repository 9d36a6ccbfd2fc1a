#pragma once

// Letters made capitals, with their accents: verdicts and the heads of sentences in any language of
// the western alphabet.

#include <string>

namespace aeruca::detail {

/// The text in capitals, letters of Latin-1 (ä, é) among them; all else stays.
std::string capitals(std::string text);

}  // namespace aeruca::detail
