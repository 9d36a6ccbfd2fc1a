#pragma once

// A long text in pieces that end where a line does, so that a file of any length is read through a
// window that stays in the cache of the processor.

#include <cstddef>
#include <cstdio>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

class TextPieces {
 public:
  virtual ~TextPieces() = default;
  /// The next piece, valid until the one after; empty at the end. Only the last may end inside a
  /// line.
  virtual std::string_view next() = 0;
  /// Bytes of all pieces.
  [[nodiscard]] virtual std::size_t size() const = 0;
};

/// Pieces of a text in memory.
class MemoryPieces final : public TextPieces {
 public:
  explicit MemoryPieces(std::string_view text) : rest_(text), size_(text.size()) {}
  std::string_view next() override;
  [[nodiscard]] std::size_t size() const override { return size_; }

 private:
  std::string_view rest_;
  std::size_t size_;
};

/// What becomes of a file that begins with the mark of UTF-16.
enum class Utf16 { refuse, hand_on };

/// Pieces of a file. Throws FileError when it is no regular file, cannot be opened or read to its
/// end, is UTF-16 (handed on: its bytes are), or has a line longer than 64 MiB.
class FilePieces final : public TextPieces {
 public:
  explicit FilePieces(const std::string& path, Utf16 utf16 = Utf16::refuse);
  std::string_view next() override;
  [[nodiscard]] std::size_t size() const override { return size_; }

 private:
  struct Close {
    void operator()(std::FILE* file) const { std::fclose(file); }
  };
  std::size_t read_on(std::size_t from);

  std::string path_;
  std::unique_ptr<std::FILE, Close> file_;
  std::size_t size_ = 0;
  std::vector<char> window_;
  std::size_t given_ = 0;  // bytes of the window that were given away
  std::size_t held_ = 0;   // bytes of the window that the file has filled
};

}  // namespace aeruca::detail
