#include "commands.h"

#include <array>

namespace boughlight::cli {

Run declare_survey(CLI::App& app);
Run declare_watch(CLI::App& app);
Run declare_index(CLI::App& app);
Run declare_check(CLI::App& app);
Run declare_place(CLI::App& app);
Run declare_window(CLI::App& app);
Run declare_compare(CLI::App& app);
Run declare_outlook(CLI::App& app);
Run declare_library(CLI::App& app);
Run declare_fixture(CLI::App& app);
Run declare_new(CLI::App& app);
Run declare_fit(CLI::App& app);
Run declare_tune(CLI::App& app);
Run declare_schema(CLI::App& app);
Run declare_reference(CLI::App& app);
Run declare_completion(CLI::App& app);
Run declare_help(CLI::App& app);

std::span<const Command> commands() {
  static constexpr std::array kCommands = {
      Command{"survey", "Work out the light in a scene and judge every want", declare_survey, LightUse::kept},
      Command{"watch", "Survey a scene again whenever it is saved", declare_watch, LightUse::kept},
      Command{"index", "Put the results of many scenes side by side", declare_index},
      Command{"check", "Read a scene, report every mistake, and list what it holds", declare_check},
      Command{"fit", "Find what lamps and meshes really give, by a meter", declare_fit, LightUse::traced},
      Command{"tune", "Find the changes to lamps with which every want is met", declare_tune,
              LightUse::traced},
      Command{"place", "Where over the top a lamp may hang, with its slack in cm", declare_place,
              LightUse::traced},
      Command{"window", "How strong a lamp may be, how high, how deep the perch", declare_window,
              LightUse::traced},
      Command{"compare", "Hold one layout against another: what got better or worse", declare_compare,
              LightUse::kept},
      Command{"outlook", "The months ahead: growth, ageing, dust; what fails when", declare_outlook,
              LightUse::traced},
      Command{"library", "List the lamps and materials that a scene can name", declare_library},
      Command{"fixture", "Show one lamp: spectrum, beam, readings by distance", declare_fixture},
      Command{"new", "Write a scene to start from; with --ask from your answers", declare_new,
              LightUse::kept},
      Command{"schema", "Write the JSON Schema of a file, for editors and programs", declare_schema},
      Command{"reference", "Write a reference page, as text or for man", declare_reference},
      Command{"completion", "Write the completion of this command line for a shell", declare_completion},
      Command{"help", "Print how to begin, or how one command is called", declare_help},
  };
  return kCommands;
}

}  // namespace boughlight::cli
