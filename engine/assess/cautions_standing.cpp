// Cautions that show whatever the figures say.
#include <algorithm>

#include "assess/caution_parts.h"

namespace boughlight {

void add_standing(const Survey& survey, Cautions& cautions) {
  const std::vector<Lamp>& lamps = survey.scene.lamps;
  if (survey.leaf_count > 0)
    cautions.push_back({"leaves", "Readings within foliage depend on which leaf hangs where.",
                        "The real plant's leaves hang elsewhere; another seed shows how much that matters."});
  cautions.push_back(
      {"estimate",
       "All figures are estimates. Read with a meter before the animal goes in: the meter decides. "
       "Without one stay at the careful end, and borrow one.",
       "Lamps of one type differ by 15 to 20 %, meshes foul, tubes fade."});
  cautions.push_back(
      {"drift",
       "A new lamp, a cleaned mesh, a moved branch, a trimmed plant, a grown animal or a new season: "
       "measure again.",
       "Each voids the last check; a fresh tube hung as high as the old one is stronger."});
  if (std::any_of(lamps.begin(), lamps.end(), gives_ultraviolet))
    cautions.push_back(
        {"eyes",
         "Switch the lamps off to work inside, wear goggles that block ultraviolet to measure, never "
         "look into a lamp; air the room where a tube breaks.",
         "Ultraviolet burns eyes and skin before it hurts; fluorescent tubes hold mercury."});
  if (!lamps.empty()) {
    cautions.push_back(
        {"heat",
         "Check the back and the mesh under every lamp with a touch probe, every dimmer at full; add a "
         "cut-out of its own.",
         "The mesh is a perch, an animal may not leave what burns it, and a dimming thermostat is a "
         "control, not a safety device."});
    cautions.push_back(
        {"fire",
         "Keep to the lamp maker's distances and watts: ceramic holders, a guard, a second fixing, no "
         "clamp alone, no plastic mesh or leaves near a flood, a smoke alarm.",
         "Hot lamps set fire to what they touch or fall on."});
    cautions.push_back(
        {"mains",
         "Residual-current protection, drip loops, no misting while lamps are hot; fixed wiring is an "
         "electrician's work, to local code.",
         "Water and mains kill, and spray shatters hot glass."});
    cautions.push_back({"retreat", "Always leave a cool retreat without ultraviolet, and a dark night.",
                        "No figure replaces the animal's own choice."});
  }
  cautions.push_back(
      {"veterinarian",
       "This is not veterinary advice. Closed eyes, sores or hiding after a lamp change: lamp off, and "
       "ask a veterinarian; ask about diet, calcium and vitamin D as well.",
       "Ultraviolet does not replace a diet, and supplements add to it."});
}

}  // namespace boughlight
