// Runs a fuzz target without a fuzzer: over every file of some folders, and over so many changed copies of
// them, the same ones each time. replay COUNT FOLDER...
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <set>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

namespace fs = std::filesystem;
using namespace std::string_literals;

void feed(const std::string& bytes) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

std::vector<std::string> contents_of(const std::vector<fs::path>& folders) {
  std::set<fs::path> files;  // in an order that the disk does not choose
  for (const fs::path& folder : folders)
    for (const auto& entry : fs::recursive_directory_iterator(folder))
      if (entry.is_regular_file()) files.insert(entry.path());
  std::vector<std::string> contents;
  for (const fs::path& file : files) {
    std::ifstream in(file, std::ios::binary);
    contents.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  }
  return contents;
}

/// A few bytes changed, a piece left out or said twice, a piece of another file put in.
std::string changed(std::string bytes, const std::vector<std::string>& all, std::mt19937_64& dice) {
  const auto below = [&](std::size_t n) {
    return n == 0 ? std::size_t{0} : static_cast<std::size_t>(dice() % n);
  };
  for (std::size_t change = 1 + below(4); change > 0; --change) {
    const std::size_t place = below(bytes.size() + 1), length = below(1 + bytes.size() / 8);
    const std::string& other = all[below(all.size())];
    switch (below(5)) {
      case 0:
        if (place < bytes.size()) bytes[place] = static_cast<char>(dice() & 0xff);
        break;
      case 1:
        bytes.erase(place, length);
        break;
      case 2:
        bytes.insert(place, bytes.substr(place, length));
        break;
      case 3:
        bytes.insert(place, other.substr(below(other.size()), below(64)));
        break;
      default:
        bytes.insert(place, "-:[]{}#\"'\n,;.0e9"s.substr(below(15), 1 + below(2)));
    }
  }
  return bytes;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fprintf(stderr, "usage: replay COUNT FOLDER...\n");
    return 2;
  }
  const std::vector<std::string> all = contents_of({argv + 2, argv + argc});
  if (all.empty()) return 2;
  for (const std::string& bytes : all) feed(bytes);
  std::mt19937_64 dice(1);
  for (long i = std::atol(argv[1]); i > 0; --i) feed(changed(all[dice() % all.size()], all, dice));
  std::printf("%zu files, %s changed copies\n", all.size(), argv[1]);
}
