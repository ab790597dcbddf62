// What was answered, and the scene that it makes.
#pragma once

#include <string>
#include <vector>

#include "ask_questions.h"

namespace boughlight::cli {

// Lengths in metres.
struct AnsweredLamp {
  std::string name;     // in the scene
  std::string kind;     // tube, compact, mercury, flood, bar or panel
  std::string fixture;  // of the library, or the name of a file beside the scene
  std::string remark;   // what of it is a guess
  double gap = 0;       // from its lowest part down to the top
};

struct Answers {
  double width = 0, depth = 0, height = 0, dome = 0;  // dome: 0 where the top is flat
  std::string mesh = "mesh-fine", own_mesh;  // the latter as a scene's material; "" for the library's
  std::string walls, front;                  // materials
  double back = 0;                           // of the animal, above what it sits on
  double left = 0, right = 0, thick = 0;     // the branch: heights of its middle line, diameter
  std::vector<AnsweredLamp> lamps;
  std::string hours;
  double least_uvi = 0, most_uvi = 0, never_uvi = 0;

  double top() const { return height + dome; }
};

// Of a kind of lamp.
bool is_ultraviolet(const std::string& kind);

// As a scene's file, its lengths in the unit of the questions.
std::string scene_text(const Questions& questions, const Answers& answers);

}  // namespace boughlight::cli
