#pragma once

// Numbers and dates as the reader of a language writes them. Results, files and JSON write 0.25 and
// 2026-05-31; only text made for a reader (what fills the slots of a sentence, cells of a printed
// table) goes through here.

#include <string>

namespace aeruca::detail {

class Words;

/// `text` with the decimal mark and the form of dates of a language ("language.decimal_mark",
/// "language.date", "language.month"), where it is wholly a figure: a number, a range, a value with
/// its uncertainty, with a unit of at most three words or none, or an ISO date, month or moment.
/// Anything else, such as a version, a name of a file or a sentence, stays as it is.
std::string localised(std::string text, const Words& language);
/// The same in the language in use.
std::string localised(std::string text);

}  // namespace aeruca::detail
