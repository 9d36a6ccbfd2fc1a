#include "base/text_pieces.hpp"

#include <algorithm>
#include <cstring>
#include <filesystem>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kPiece = std::size_t{1} << 18;
constexpr std::size_t kLongestLine = std::size_t{1} << 26;

}  // namespace

std::string_view MemoryPieces::next() {
  std::size_t end = rest_.size() > kPiece ? rest_.find('\n', kPiece) : std::string_view::npos;
  end = end == std::string_view::npos ? rest_.size() : end + 1;
  const std::string_view piece = rest_.substr(0, end);
  rest_.remove_prefix(end);
  return piece;
}

FilePieces::FilePieces(const std::string& path, Utf16 utf16) : path_(path), window_(kPiece) {
  refuse_other_than_file(path);
  file_.reset(std::fopen(path.c_str(), "rb"));
  if (!file_) throw FileError(path, 0, "", "cannot be opened; a readable file is wanted");
  std::setvbuf(file_.get(), nullptr, _IONBF, 0);  // the window is buffer enough
  std::error_code problem;
  const auto size = std::filesystem::file_size(path, problem);
  size_ = problem ? 0 : static_cast<std::size_t>(size);
  held_ = read_on(0);
  const std::string_view start(window_.data(), std::min<std::size_t>(held_, 2));
  if (utf16 == Utf16::refuse && (start == "\xFF\xFE" || start == "\xFE\xFF"))
    throw FileError(path, 0, "", "the file is UTF-16; save it as UTF-8");
}

std::size_t FilePieces::read_on(std::size_t from) {
  const std::size_t got = std::fread(window_.data() + from, 1, window_.size() - from, file_.get());
  // A fault of the disk or the network is no end of the file.
  if (std::ferror(file_.get()) != 0)
    throw FileError(path_, 0, "", "cannot be read to its end; a readable file is wanted");
  return got;
}

std::string_view FilePieces::next() {
  held_ -= given_;
  std::memmove(window_.data(), window_.data() + given_, held_);
  given_ = 0;
  for (;;) {
    held_ += read_on(held_);
    const bool ended = held_ < window_.size();
    const std::string_view text(window_.data(), held_);
    const std::size_t line_end = text.rfind('\n');
    if (ended || line_end != std::string_view::npos) {
      given_ = ended ? held_ : line_end + 1;
      return text.substr(0, given_);
    }
    if (window_.size() >= kLongestLine)
      throw FileError(path_, 0, "", "has a line longer than the accepted 67108864 bytes");
    window_.resize(2 * window_.size());
  }
}

}  // namespace aeruca::detail
