// Surveys with traced light kept from earlier ones: quicker, and the same in every bit.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <mutex>

#include "assess/survey.h"
#include "report/write.h"
#include "scene/load.h"
#include "transport/light_store.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// Keeps everything, or what `keeps` says, and counts.
class MemoryStore final : public LightStore {
 public:
  bool read(const LightKey& key, const std::function<void*(std::size_t)>& room) override {
    const std::lock_guard lock(guard_);
    const auto found = kept.find(key);
    if (found == kept.end()) return false;
    void* into = room(found->second.size());
    if (!into) return false;
    std::copy(found->second.begin(), found->second.end(), static_cast<char*>(into));
    return true;
  }
  void write(const LightKey& key, const void* bytes, std::size_t size, std::shared_ptr<const void>) override {
    const std::lock_guard lock(guard_);
    ++written;
    if (!loses || !loses(key)) kept[key].assign(static_cast<const char*>(bytes), size);
  }

  std::map<LightKey, std::string> kept;
  std::function<bool(const LightKey&)> loses;
  int written = 0;

 private:
  std::mutex guard_;
};

class MemoryCache final : public LightCache {
 public:
  std::shared_ptr<LightStore> open(const LightKey& field) override {
    auto& store = stores[field];
    if (!store) store = std::make_shared<MemoryStore>();
    return store;
  }
  std::map<LightKey, std::shared_ptr<MemoryStore>> stores;
  MemoryStore& only() { return *stores.at(stores.begin()->first); }
};

// A demo in little, with something of everything that is traced.
Scene scene_of(const std::string& name) {
  Scene scene = load_scene(std::string(BOUGHLIGHT_SOURCE_DIR) + "/scenes/" + name + ".yaml");
  scene.survey.spacing = 0.15;
  scene.survey.tolerance = 0.2;
  return scene;
}

struct Surveyed {
  std::map<std::string, std::string> files;
  Survey::Effort effort;
  double traced() const { return effort.rays - effort.recalled; }
};

Surveyed survey(const Scene& scene, const std::shared_ptr<LightCache>& cache = nullptr) {
  SurveyControl control;
  control.cache = cache;
  const Survey survey = run_survey(scene, control);
  std::string name = (fs::temp_directory_path() / "boughlight-kept-XXXXXX").string();
  const fs::path folder = ::mkdtemp(name.data());
  write_survey(survey, folder);
  Surveyed surveyed{{}, survey.effort};
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    std::ifstream in(entry.path(), std::ios::binary);
    surveyed.files[fs::relative(entry.path(), folder).string()] =
        std::string(std::istreambuf_iterator<char>(in), {});
  }
  fs::remove_all(folder);
  return surveyed;
}

void expect_same(const Surveyed& a, const Surveyed& b) {
  ASSERT_EQ(a.files.size(), b.files.size());
  for (const auto& [name, bytes] : a.files) EXPECT_TRUE(b.files.at(name) == bytes) << name;
  EXPECT_EQ(a.effort.rays, b.effort.rays);
}

// What may change without moving light.
const std::vector<std::pair<std::string, std::function<void(Scene&)>>>& edits() {
  static const std::vector<std::pair<std::string, std::function<void(Scene&)>>> all = {
      {"a filament dimmed", [](Scene& s) { s.lamps[1].dim = 0.6; }},
      {"a tube aged", [](Scene& s) { s.lamps[0].burned_h = 3000; }},
      {"dimmers at full",
       [](Scene& s) {
         for (Lamp& lamp : s.lamps) lamp.dim = 1;
       }},
      {"a lamp out", [](Scene& s) { s.lamps[1].dim = 0; }},
      {"hours, wants and names",
       [](Scene& s) {
         for (Lamp& lamp : s.lamps) lamp.lit = {{{10, 15}}};
         s.perches[0].wants[0].limits = {0.5, 1};
         s.animal->basking[0].limits = {0.5, 1};
         s.lamps[0].name = "another", s.perches[1].name = "lower";
       }},
  };
  return all;
}

void expect_same_whatever_is_kept(const Scene& scene) {
  const Surveyed off = survey(scene);
  const auto cache = std::make_shared<MemoryCache>();
  const Surveyed cold = survey(scene, cache);
  expect_same(cold, off);
  EXPECT_EQ(cold.effort.recalled, 0);
  const Surveyed warm = survey(scene, cache);
  expect_same(warm, off);
  EXPECT_EQ(warm.traced(), 0);
  // Any half of what is kept.
  for (const std::uint64_t half : {0u, 1u}) {
    const auto part = std::make_shared<MemoryCache>(*cache);
    for (auto& [field, store] : part->stores) {
      const auto whole = store;
      store = std::make_shared<MemoryStore>();
      for (const auto& [key, bytes] : whole->kept)
        if (key.low % 2 == half) store->kept[key] = bytes;
    }
    expect_same(survey(scene, part), off);
  }
  // Something that forgets while it is used.
  const auto forgetful = std::make_shared<MemoryCache>();
  const auto store = std::make_shared<MemoryStore>();
  store->loses = [](const LightKey& key) { return key.low % 3 == 0; };
  forgetful->stores[cache->stores.begin()->first] = store;
  expect_same(survey(scene, forgetful), off);
  expect_same(survey(scene, forgetful), off);
}

TEST(KeptLightSlow, ColdWarmHalfAndNoCacheGiveTheSameBits) {
  expect_same_whatever_is_kept(scene_of("small-shelf"));
}

TEST(KeptLightSlow, ColdWarmHalfAndNoCacheGiveTheSameBitsOfTheDemo) {
  expect_same_whatever_is_kept(scene_of("fern-tower"));
}

TEST(KeptLightSlow, ChangesThatMoveNoLightTraceNextToNothingAndGiveTheSameBits) {
  const auto cache = std::make_shared<MemoryCache>();
  const Surveyed first = survey(scene_of("fern-tower"), cache);
  for (const auto& [what, edit] : edits()) {
    Scene scene = scene_of("fern-tower");
    edit(scene);
    const auto own = std::make_shared<MemoryCache>();
    own->stores[cache->stores.begin()->first] = std::make_shared<MemoryStore>();
    own->stores.begin()->second->kept = cache->only().kept;
    const Surveyed warm = survey(scene, own);
    ASSERT_EQ(own->stores.size(), 1u) << what;
    expect_same(warm, survey(scene));
    RecordProperty(what, static_cast<int>(warm.traced()));
    // The search for the closest place goes other ways, which is much of so coarse a survey.
    EXPECT_LT(warm.traced(), 0.2 * first.effort.rays) << what;
  }
}

TEST(KeptLightSlow, WhatMovesLightIsTracedAnew) {
  const auto cache = std::make_shared<MemoryCache>();
  survey(scene_of("small-shelf"), cache);
  for (const auto& [what, edit] : std::vector<std::pair<std::string, std::function<void(Scene&)>>>{
           {"lamp", [](Scene& s) { s.lamps[0].at.x() += 0.01; }},
           {"wall", [](Scene& s) { s.materials[0].reflectance *= 0.9; }},
           {"seed", [](Scene& s) { ++s.survey.seed; }}}) {
    Scene scene = scene_of("small-shelf");
    edit(scene);
    const Surveyed warm = survey(scene, cache);
    expect_same(warm, survey(scene));
    EXPECT_EQ(warm.effort.recalled, 0) << what;
  }
}

}  // namespace
}  // namespace boughlight
