#include "transport/cells.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <new>
#include <stdexcept>

#include "transport/walk.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kCellStream = 11, kLightStream = 12, kPlaceStream = 13 };

// Counts the ways of one source's light through the cells.
struct WayCounter {
  const CellGrid& grid;
  const std::vector<const Spectral*>& weights;  // of the source's channels
  const std::vector<float>& inverse_volume;
  bool from_room;
  float weight;                 // of the path at hand, per path
  float* up;                    // this replicate's and source's bins, one set a cell
  float* oriented;              // theirs in the orientations: [cell][channel of the source]
  std::vector<float> values;    // of those channels
  std::vector<float> straight;  // by cell, facing up; empty where nobody asks

  void vertex(const ScatterSite&, const Spectral&) {}
  void escape(const Vec3f&, const Spectral&) {}
  void segment(const Vec3f& origin, const Vec3f& direction, float distance, const Spectral& throughput,
               Met met) {
    const float down = std::max(0.0f, -direction.z());
    // What comes straight from a lamp is left to connections, or told apart; the room's light has none.
    if (met != Met::surface && !from_room) {
      if (met == Met::panes || !(down > 0) || straight.empty()) return;
      const float carried = weight * down * throughput[0];  // the same in every bin
      grid.traverse(origin, direction, distance, [&](std::size_t cell, float length) {
        straight[cell] += length * inverse_volume[cell] * carried;
      });
      return;
    }
    const Spectral carried = weight * throughput;
    for (std::size_t c = 0; c < weights.size(); ++c) values[c] = (*weights[c] * carried).sum();
    const Orientations cosines = orientation_cosines(-direction);
    grid.traverse(origin, direction, distance, [&](std::size_t cell, float length) {
      const float share = length * inverse_volume[cell];
      if (down > 0) Eigen::Map<Spectral>(up + kBins * cell) += (share * down) * carried;
      float* const here = oriented + kOrientations * weights.size() * cell;
      for (std::size_t c = 0; c < values.size(); ++c)
        Eigen::Map<Orientations>(here + kOrientations * c) += (share * values[c]) * cosines;
    });
  }
};

}  // namespace

CellLight::CellLight(std::size_t cells, std::size_t sources, std::size_t channels)
    : cells_(cells),
      sources_(sources),
      up_size_(kCellReplicates * sources * cells * kBins),
      oriented_size_(channels * cells * kOrientations),
      up_(numbers(up_size_)),
      oriented_(numbers(oriented_size_)) {
  clear();
}

CellLight::Numbers CellLight::numbers(std::size_t size) {
  constexpr std::size_t kLine = 64;
  const std::size_t lines = (size * sizeof(float) + kLine - 1) / kLine;
  Numbers all(static_cast<float*>(std::aligned_alloc(kLine, std::max<std::size_t>(lines, 1) * kLine)));
  if (!all) throw std::bad_alloc();
  return all;
}

void CellLight::clear() {
  // Side by side: the first time, most of it goes into getting the memory.
  constexpr std::size_t kPiece = 1 << 16;
  for (const std::span<float> numbers : {all_up(), all_oriented()})
    tbb::parallel_for(std::size_t{0}, (numbers.size() + kPiece - 1) / kPiece, [&](std::size_t piece) {
      const std::size_t first = piece * kPiece, count = std::min(kPiece, numbers.size() - first);
      std::fill_n(numbers.data() + first, count, 0.0f);
    });
  rays = {};
}

double CellLight::bytes(std::size_t cells, std::size_t sources, std::size_t channels) {
  return 4.0 * static_cast<double>(cells) *
         (static_cast<double>(kCellReplicates * sources * kBins) +
          static_cast<double>(channels * kOrientations));
}

Vec3f CellPlaces::at(PairSampler& sampler) const {
  // A cell with free volume is left within a few tries; one that is all branch or model has no light to find.
  constexpr int kTries = 1000;
  Vec3f place = low_ + 0.5f * extent_;
  for (int i = 0; i < kTries; ++i) {
    const Pair across = sampler.next(), up = sampler.next();
    place = place_of(across, up);
    if (!has_solid_ || !scene_.inside_solid(place.cast<double>())) break;
  }
  return place;
}

void CellPlaces::place_all(std::span<DirectSample> samples) const {
  if (has_solid_) {
    for (DirectSample& sample : samples) sample.place = at(sample.sampler);
    return;
  }
  std::array<Pair, World::kSegments> across, up;
  PairSampler::next_of(samples, &DirectSample::sampler, across.data());
  PairSampler::next_of(samples, &DirectSample::sampler, up.data());
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i].place = place_of(across[i], up[i]);
}

void add_direct(const LightField& field, const Scene& scene, const CellGrid& grid,
                const std::vector<std::uint32_t>& places, const std::vector<float>& told,
                const GreyTeller& tell, std::uint64_t seed, CellLight& light) {
  std::vector<RayCount> rays(grid.size());
  tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t cell) {
    if (grid.free_share(cell) <= 0) return;
    const CellPlaces cell_places(scene, grid, cell);
    const std::uint32_t* const samples = places.data() + cell * field.lamp_count();
    std::vector<float> grey(field.source_count());
    for (int replicate = 0; replicate < kCellReplicates; ++replicate) {
      std::fill(grey.begin(), grey.end(), 0.0f);
      const std::uint64_t stream =
          mix64(mix64(seed, kCellStream), cell * kCellReplicates + static_cast<std::size_t>(replicate));
      for (std::size_t lamp = 0; lamp < field.lamp_count(); ++lamp) {
        const float left = told.empty() ? 1 : 1 - told[cell * field.lamp_count() + lamp];
        const auto add = [&](const Arrival& arrival) {
          const float facing =
              arrival.scalar * std::max(0.0f, arrival.direction.z()) / static_cast<float>(samples[lamp]);
          if (arrival.through.is_spectral) {
            light.up(replicate, lamp, cell) += facing * arrival.through.spectral;
          } else {
            grey[lamp] += left * facing;
          }
        };
        in_batches(
            samples[lamp],
            [&](std::uint32_t i) {
              return DirectSample{Vec3f::Zero(), PairSampler(mix64(stream, lamp), i)};
            },
            [&](std::span<DirectSample> batch) {
              cell_places.place_all(batch);
              field.direct_from(lamp, batch, 0, rays[cell], add);
            });
      }
      if (tell) tell(replicate, cell, grey);
      for (std::size_t source = 0; source < grey.size(); ++source) {
        auto bins = light.up(replicate, source, cell);
        bins += grey[source];
        if (!(bins >= 0).all() || !bins.isFinite().all())
          throw std::runtime_error("a sample of a cell's direct light is negative or not finite");
      }
    }
  });
  for (const RayCount& count : rays) light.rays += count;
}

void add_indirect(const LightField& field, const CellGrid& grid, const std::vector<Channel>& channels,
                  const std::vector<std::uint32_t>& paths, const StraightTeller& tell, std::uint64_t seed,
                  CellLight& light) {
  std::vector<float> inverse_volume(grid.size());
  for (std::size_t cell = 0; cell < grid.size(); ++cell)
    inverse_volume[cell] = grid.free_share(cell) > 0 ? 1 / grid.free_volume(cell) : 0;

  // One source's channels of a cell lie side by side while its ways are counted: most of the time goes into
  // getting at them.
  std::vector<std::vector<std::size_t>> own(field.source_count());
  std::vector<std::vector<const Spectral*>> weights(own.size());
  std::vector<std::size_t> begins(own.size());  // in one replicate's orientations
  std::size_t end = 0;
  for (std::size_t source = 0; source < own.size(); ++source) {
    for (std::size_t c = 0; c < channels.size(); ++c) {
      if (channels[c].source != static_cast<int>(source)) continue;
      own[source].push_back(c);
      weights[source].push_back(&channels[c].weights);
    }
    begins[source] = end;
    end += kOrientations * own[source].size() * grid.size();
  }

  // Replicates run side by side, but their orientations are added in order: the same bits for any number of
  // threads.
  const int wave = std::clamp(tbb::this_task_arena::max_concurrency(), 1, kCellReplicates);
  std::vector<std::vector<float>> oriented(static_cast<std::size_t>(wave));
  std::vector<RayCount> rays(kCellReplicates);
  for (int first = 0; first < kCellReplicates; first += wave) {
    const int count = std::min(wave, kCellReplicates - first);
    tbb::parallel_for(0, count, [&](int slot) {
      const int replicate = first + slot;
      auto& sums = oriented[static_cast<std::size_t>(slot)];
      sums.assign(end, 0.0f);
      RayCount& count_here = rays[static_cast<std::size_t>(replicate)];
      for (std::size_t source = 0; source < field.source_count(); ++source) {
        const bool room = source >= field.lamp_count();
        WayCounter counter{grid,
                           weights[source],
                           inverse_volume,
                           room,
                           0,
                           light.up(replicate, source, 0).data(),
                           sums.data() + begins[source],
                           std::vector<float>(own[source].size()),
                           std::vector<float>(tell && !room ? grid.size() : 0)};
        const std::uint64_t stream =
            mix64(mix64(seed, kLightStream), source * kCellReplicates + static_cast<std::size_t>(replicate));
        for (std::uint32_t i = 0; i < paths[source]; ++i) {
          PairSampler sampler(stream, i);
          const Pair place = sampler.next(), direction = sampler.next();
          const LightField::Emission emission = room ? field.emit_room(place, direction, sampler.next().u)
                                                     : field.emit(source, place, direction);
          if (!(emission.weight > 0)) continue;
          counter.weight = emission.weight / static_cast<float>(paths[source]);
          walk<Travel::with_light>(field, emission.origin, emission.direction, Spectral::Ones(), sampler,
                                   count_here, counter);
        }
        if (tell && !room) tell(replicate, source, counter.straight);
      }
    });
    for (int slot = 0; slot < count; ++slot)
      for (std::size_t source = 0; source < own.size(); ++source) {
        const float* sums = oriented[static_cast<std::size_t>(slot)].data() + begins[source];
        for (std::size_t cell = 0; cell < grid.size(); ++cell)
          for (const std::size_t channel : own[source]) {
            light.oriented(channel, cell) += Eigen::Map<const Orientations>(sums) / kCellReplicates;
            sums += kOrientations;
          }
      }
  }
  for (const RayCount& count : rays) light.rays += count;
}

bool add_direct_orientations(const LightField& field, const std::vector<Channel>& channels, std::size_t lamp,
                             const Vec3f& place, std::uint64_t id, std::uint32_t first, std::uint32_t samples,
                             Orientations& grey, std::vector<Orientations>& tinted, RayCount& rays) {
  RayCount asked;
  std::uint64_t seen = 0;
  const auto add = [&](const Arrival& arrival) {
    ++seen;
    const Orientations share =
        orientation_cosines(arrival.direction) * (arrival.scalar / static_cast<float>(samples));
    if (!arrival.through.is_spectral) {
      grey += share;
      return;
    }
    tinted.resize(channels.size(), Orientations::Zero());
    for (std::size_t c = 0; c < channels.size(); ++c)
      if (channels[c].source == arrival.source)
        tinted[c] += share * (channels[c].weights * arrival.through.spectral).sum();
  };
  const std::uint64_t stream = mix64(mix64(id, kPlaceStream), lamp);
  in_batches(
      samples,
      [&](std::uint32_t i) {
        return DirectSample{place, PairSampler(stream, first + i)};
      },
      [&](std::span<DirectSample> batch) { field.direct_from(lamp, batch, 0, asked, add); });
  rays += asked;
  return seen > 0 && seen < asked.shadow;
}

}  // namespace boughlight
