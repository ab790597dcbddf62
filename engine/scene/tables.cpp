#include "scene/tables.h"

#include <fmt/format.h>

#include <algorithm>

#include "scene/format_forms.h"
#include "spectrum/tm27.h"
#include "units/sought_files.h"

namespace boughlight {

namespace {

// A CSV or TM-27 file named in a field; its own mistakes are added to the list.
std::optional<Table> read_file(const Field& file_name, SpectrumUse use, Beyond beyond) {
  const auto path = file_beside(file_name, "the name of a CSV file");
  if (!path) return std::nullopt;
  try {
    if (is_tm27_name(path->string())) return read_tm27_file(path->string(), use, beyond);
    return read_plain_table_file(path->string(), Between::linear, beyond);
  } catch (const InputError& problems) {
    file_name.document().problems->add_all(problems);
    return std::nullopt;
  }
}

// Whether a table says something of light at all; micrometres written as nanometres do not.
bool reaches_light(const std::vector<double>& wavelengths_nm, const Field& field) {
  if (wavelengths_nm.back() >= kFirstNm && wavelengths_nm.front() <= kLastNm) return true;
  field.fail(fmt::format("goes from {} nm to {} nm; light here is 250 nm to 25 um",
                         print_number(wavelengths_nm.front(), 5), print_number(wavelengths_nm.back(), 5)));
  return false;
}

}  // namespace

std::filesystem::path beside(const Field& field, const std::string& name) {
  return (std::filesystem::path(field.document().file).parent_path() / name).lexically_normal();
}

std::optional<std::filesystem::path> file_beside(const Field& field, const char* what) {
  const auto name = field.text(what);
  if (!name) return std::nullopt;
  const std::filesystem::path path = beside(field, *name);
  SoughtFiles::note(path);
  std::error_code error;
  if (std::filesystem::is_regular_file(path, error)) return path;
  const std::string shown = path.string();
  field.fail(std::filesystem::exists(path, error)
                 ? fmt::format("'{}' is a folder or a device, not a regular file", shown)
                 : fmt::format("there is no file '{}'", shown));
  return std::nullopt;
}

std::optional<TablePoints> read_points(const Field& field, const Form& list) {
  const Form& entry_form = list.of.front();
  const auto entries = field.list(fmt::format("a table [{0}, {0}, ...]", entry_form.what));
  if (!entries) return std::nullopt;
  TablePoints points;
  bool good = true;
  const Field* last = nullptr;
  for (const Field& entry : *entries) {
    const auto pair = entry.list_of(2, entry_form.what);
    const auto x = pair ? (*pair)[0].number(entry_form.of[0]) : std::nullopt;
    const auto y = pair ? (*pair)[1].number(entry_form.of[1]) : std::nullopt;
    good = good && x && y;
    if (!x || !y) continue;
    if (last && !(*x > points.x.back())) {
      (*pair)[0].fail(fmt::format("{} does not come after {}: entries must rise", (*pair)[0].found(),
                                  last->node().items[0].text));
      good = false;
    }
    points.x.push_back(*x);
    points.y.push_back(*y);
    last = &entry;
  }
  if (good && points.x.size() < list.fewest) {
    field.fail(fmt::format("holds {} entries; at least {} are needed", points.x.size(), list.fewest));
    good = false;
  }
  return good ? std::optional(std::move(points)) : std::nullopt;
}

std::optional<Table> read_spectral_ratio(const Field& field) {
  // The same for every key that may be one.
  static const Key kForms{.name = "spectral ratio", .forms = format::spectral_ratio_forms()};
  if (field.is_list()) {
    auto points = read_points(field, kForms.form(Form::Kind::list));
    if (!points || !reaches_light(points->x, field)) return std::nullopt;
    return Table(std::move(points->x), std::move(points->y), Between::linear, Beyond::hold);
  }
  if (field.is_map()) {
    const auto file = Fields(field, format::ratio_file).get("file");
    const auto table = file ? read_file(*file, SpectrumUse::ratio, Beyond::hold) : std::nullopt;
    if (!table || !reaches_light(table->x(), *file)) return std::nullopt;
    const double most = *std::max_element(table->y().begin(), table->y().end());
    if (most > 1) {
      file->fail(fmt::format("holds a ratio of {}; at most 1 is allowed", print_number(most)));
      return std::nullopt;
    }
    return table;
  }
  if (!field.is_scalar()) {
    field.fail(fmt::format("is {}; a ratio, a table or {{file: ...}} is needed here", field.found()));
    return std::nullopt;
  }
  const auto ratio = field.number(kForms.form(Form::Kind::number));
  return ratio ? std::optional(Table::constant(*ratio)) : std::nullopt;
}

std::optional<Table> read_emission_file(const Field& file_name) {
  return read_file(file_name, SpectrumUse::emission, Beyond::zero);
}

}  // namespace boughlight
