// Lamps as files: the emitter, its distribution, the parts of its light and what each is scaled by. Private
// to this room.
#pragma once

#include <functional>
#include <memory>

#include "scene/field.h"
#include "scene/model.h"

namespace boughlight {

// The spectrum of a lamp's part or of the room: bands, lines, a blackbody, a table or a file, with their
// weights.
struct SpectrumRead {
  std::vector<SpectrumComponent> components;
  SpectrumPerWatt per_watt;
};
std::optional<SpectrumRead> read_spectrum(const Field& field);
// Integrates; what is wrong with the components is reported at the field.
std::optional<SpectrumRead> integrate_at(const Field& field, std::vector<SpectrumComponent> components);

// The radiating shape with its distribution, and the distribution in words.
struct EmitterRead {
  std::shared_ptr<const Emitter> emitter;
  std::string distribution;
};
std::optional<EmitterRead> read_emitter(const Field& field, const std::optional<Field>& distribution);

// The housing of a lamp.
std::optional<LampBody> read_body(const Field& field);

// Radiant flux, W, that makes the part give the reading or flux declared in `output`, and the distance of
// that reading. Spectrum and emitter are null where they were wrong; the rest is checked all the same.
struct OutputRead {
  double radiant_flux_w = 0;
  std::optional<double> anchor_m;
};
std::optional<OutputRead> read_output(const Field& output, const SpectrumPerWatt* per_watt,
                                      const Emitter* emitter);

// A whole fixture file. `name` is what the user calls it; a file of the library must state title and source.
std::shared_ptr<const Fixture> read_fixture_file(const std::filesystem::path& file, const std::string& name,
                                                 bool of_library, Problems& problems);

// A library name, or a path relative to `folder`. What is wrong with the name itself is given to `fail_name`,
// what is wrong inside the file is added to `problems`.
std::shared_ptr<const Fixture> find_fixture(const std::string& name, const std::filesystem::path& folder,
                                            Problems& problems,
                                            const std::function<void(std::string)>& fail_name);

}  // namespace boughlight
