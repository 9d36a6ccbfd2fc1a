#include "dataset/read_files.hpp"

#include "base/hash.hpp"

namespace aeruca::detail {

std::shared_ptr<Records> read_files(const std::vector<NamedText>& files) {
  auto records = std::make_shared<Records>();
  std::uint64_t hash = kHashStart;
  for (const auto& [name, text] : files) {
    hash = fnv1a(text, fnv1a(name, hash));
    if (name.ends_with(".bib"))
      read_bibliography(*records, name, text, 0);
    else
      read_toml(*records, name, text, 0);
  }
  records->content_hash = hexadecimal(hash);
  return records;
}

}  // namespace aeruca::detail
