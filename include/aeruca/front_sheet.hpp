#pragma once

/// \file
/// What should be done first: one page of an assessment, for someone who knows the trade and not the
/// chemistry.
///
/// Four boxes in the order of the bench, each with a verdict in words and at most one figure with its
/// range, then the measurements that would tell most and one line of caution. The sheet adds nothing
/// to the assessment: each box says what its section says, in fewer and plainer words, and is never
/// surer. Where two stories of the bath disagree it gives no common range of what is left.
///
/// Limits that tests hold it to: 150 words besides figures, 25 words a sentence.

#include <string>
#include <string_view>
#include <vector>

namespace aeruca {

/// What a box asks of the reader, for its sign and colour.
enum class SheetTone {
  calm,   ///< nothing to do now
  watch,  ///< something to do, or not settled
  alarm,  ///< act first here
  open    ///< not known
};
/// "calm", "watch", "alarm" or "open".
[[nodiscard]] std::string_view to_string(SheetTone tone);

/// One box of the front sheet.
struct SheetBox {
  std::string id;     ///< "active", "keep", "washing" or "again"
  std::string title;  ///< for readers
  SheetTone tone = SheetTone::open;
  std::string verdict;                 ///< a few words
  std::string figure;                  ///< number, range and unit; empty: none
  std::string figure_of;               ///< what the figure is of
  std::vector<std::string> sentences;  ///< at most 25 words each
  std::string section;                 ///< id of the section behind it
};

/// The page a conservator acts on.
struct FrontSheet {
  std::vector<SheetBox> boxes;       ///< is it active, keep it at, washing, look again on
  std::vector<std::string> measure;  ///< what would tell most, at most three
  std::string caution;
};

}  // namespace aeruca
