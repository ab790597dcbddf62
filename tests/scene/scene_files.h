// Scenes and fixtures written into a folder of their own and loaded from there.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "scene/load.h"

namespace boughlight {

// A folder that goes when the test ends.
class TempFolder {
 public:
  TempFolder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "boughlight-XXXXXX").string();
    path_ = mkdtemp(pattern.data());
  }
  ~TempFolder() { std::filesystem::remove_all(path_); }
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  std::filesystem::path write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return path_ / name;
  }

  // The mistakes in loading a scene of this text, the folder's path cut out, one string each; none when it
  // loads.
  std::vector<std::string> mistakes(const std::string& text) const {
    return without_folder([&] { load_scene(write("scene.yaml", text)); });
  }
  std::vector<std::string> lamp_mistakes(const std::string& text) const {
    write("lamp.yaml", text);
    return without_folder([&] { load_fixture("lamp.yaml", path_); });
  }

 private:
  template <typename Load>
  std::vector<std::string> without_folder(Load load) const {
    std::vector<std::string> texts;
    try {
      load();
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems()) {
        std::string text = problem.message();
        const std::string folder = path_.string() + "/";
        for (std::size_t at; (at = text.find(folder)) != std::string::npos;) text.erase(at, folder.size());
        texts.push_back(std::move(text));
      }
    }
    return texts;
  }

  std::filesystem::path path_;
};

// Two lines: a scene of one cabinet that loads as it is. What a test adds starts in line 3.
inline const std::string kCabinet =
    "boughlight: 1\n"
    "enclosure: [{box: cabinet, size: [90, 55, 110], faces: {floor: soil, top: mesh-fine, front: open, back: "
    "cork, "
    "left: cork, right: cork}}]\n";

struct WrongCase {
  std::string yaml;
  std::vector<std::string> mistakes;
};

// Each text after the cabinet's two lines gives exactly these mistakes.
inline void expect_mistakes(const TempFolder& folder, const std::vector<WrongCase>& cases) {
  for (const WrongCase& wrong : cases) {
    EXPECT_EQ(folder.mistakes(kCabinet + wrong.yaml), wrong.mistakes) << wrong.yaml;
  }
}

}  // namespace boughlight
