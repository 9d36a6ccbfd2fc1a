#include "base/text_pieces.hpp"

#include "aeruca/errors.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;

namespace {

std::string joined(detail::TextPieces& pieces, std::size_t& count) {
  std::string whole;
  count = 0;
  for (std::string_view piece = pieces.next(); !piece.empty(); piece = pieces.next()) {
    const bool last = whole.size() + piece.size() == pieces.size();
    CHECK((piece.back() == '\n' || last));
    whole += piece;
    ++count;
  }
  return whole;
}

std::string lines(std::size_t count, std::size_t length) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i)
    text += std::string(length + i % 7, static_cast<char>('a' + i % 26)) + "\n";
  return text;
}

}  // namespace

TEST_CASE("pieces of a text end where lines do and make up the whole") {
  for (const std::string& text :
       {std::string(), std::string("one line"), std::string("one line\n"), lines(60'000, 30),
        lines(60'000, 30) + "and no end", std::string(700'000, 'x') + "\nshort\n",
        std::string(1 << 18, 'x'), std::string((1 << 18) - 1, 'x') + "\n" + "y"}) {
    std::size_t count = 0;
    detail::MemoryPieces memory(text);
    CHECK(joined(memory, count) == text);
    CHECK(memory.size() == text.size());
    const aeruca_test::OwnFolder folder;
    detail::FilePieces file(folder.write("pieces.txt", text));
    CHECK(joined(file, count) == text);
    CHECK(file.size() == text.size());
  }
  std::size_t count = 0;
  const std::string text = lines(60'000, 30);
  detail::MemoryPieces memory(text);
  static_cast<void>(joined(memory, count));
  CHECK(count > 5);
}

TEST_CASE("a file that cannot be read in pieces is refused as a whole one is") {
  CHECK_THROWS_WITH(detail::FilePieces("/no/such/file.csv"),
                    "/no/such/file.csv: cannot be opened; a readable file is wanted");
  CHECK_THROWS_WITH(detail::FilePieces("/"), "/: is a directory; a file is wanted");
  const aeruca_test::OwnFolder folder;
  const std::string utf16 = folder.write("utf16.txt", std::string_view("\xFF\xFEt\0", 4));
  CHECK_THROWS_WITH(detail::FilePieces(utf16),
                    test::contains("the file is UTF-16; save it as UTF-8"));
  detail::FilePieces pieces(
      folder.write("endless.txt", std::string((std::size_t{1} << 26) + 1, 'x')));
  CHECK_THROWS_WITH(pieces.next(),
                    test::contains("has a line longer than the accepted 67108864 bytes"));
}
