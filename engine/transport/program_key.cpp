#include "transport/program_key.h"

#include <elf.h>
#include <gnu/libc-version.h>
#include <link.h>
#include <sys/auxv.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <vector>

#if defined(__x86_64__) || defined(__i386__)
#include <cpuid.h>
#endif

namespace boughlight {
namespace {

constexpr std::size_t padded(std::size_t size) {
  return (size + 3) / 4 * 4;
}

// The linker's own hash of what it linked; "" where there is none.
std::string build_id(const dl_phdr_info& object) {
  for (int i = 0; i < object.dlpi_phnum; ++i) {
    const auto& header = object.dlpi_phdr[i];
    if (header.p_type != PT_NOTE) continue;
    // The loader tells addresses as numbers.
    const auto* note = reinterpret_cast<const char*>(  // NOLINT(performance-no-int-to-ptr)
        object.dlpi_addr + header.p_vaddr);
    const char* const end = note + header.p_memsz;
    while (static_cast<std::size_t>(end - note) >= sizeof(ElfW(Nhdr))) {
      ElfW(Nhdr) about;
      std::copy_n(note, sizeof about, reinterpret_cast<char*>(&about));
      const std::size_t whole = sizeof about + padded(about.n_namesz) + padded(about.n_descsz);
      if (whole > static_cast<std::size_t>(end - note)) break;
      const std::string_view owner(note + sizeof about, about.n_namesz);
      if (about.n_type == NT_GNU_BUILD_ID && owner.starts_with("GNU"))
        return std::string(note + sizeof about + padded(about.n_namesz), about.n_descsz);
      note += whole;
    }
  }
  return "";
}

std::string contents(const std::string& file) {
  std::ostringstream bytes;
  bytes << std::ifstream(file, std::ios::binary).rdbuf();
  return std::move(bytes).str();
}

int add_object(dl_phdr_info* object, std::size_t, void* objects) {
  const std::string name = object->dlpi_name;
  if (name.find("vdso") != std::string::npos) return 0;  // the kernel's, which computes nothing
  std::string id = build_id(*object);
  if (id.empty()) id = contents(name.empty() ? "/proc/self/exe" : name);
  static_cast<std::vector<std::string>*>(objects)->push_back(std::move(id));
  return 0;
}

void add_processor(CanonicalBytes& bytes) {
#if defined(__x86_64__) || defined(__i386__)
  constexpr unsigned kModel = 1, kMore = 7, kLong = 0x80000001;
  for (const unsigned leaf : {0U, kModel, kMore, kLong}) {
    unsigned a = 0, b = 0, c = 0, d = 0;
    __get_cpuid_count(leaf, 0, &a, &b, &c, &d);
    if (leaf == kModel) b = 0;  // which of the processors this is
    constexpr unsigned kSavesState = 1U << 27;
    if (leaf == kModel) c &= ~kSavesState;
    bytes.add(leaf, a, b, c, d);
  }
#endif
  bytes.add(::getauxval(AT_HWCAP), ::getauxval(AT_HWCAP2));
}

LightKey find_program_key() {
  std::vector<std::string> objects;
  ::dl_iterate_phdr(add_object, &objects);
  std::sort(objects.begin(), objects.end());
  CanonicalBytes bytes;
  bytes.add("kept light, form 1");
  bytes.add(objects);
  bytes.add(::gnu_get_libc_version());
  const char* tunables = std::getenv("GLIBC_TUNABLES");
  bytes.add(tunables ? tunables : "");
  add_processor(bytes);
  return key_of(bytes);
}

}  // namespace

LightKey program_key() {
  static const LightKey key = find_program_key();
  return key;
}

}  // namespace boughlight
