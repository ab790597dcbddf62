// boughlight schema scene|fixture|material|readings|index|place|window|compare|outlook|fit|tune

#include "report/schema.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <string>
#include <vector>

#include "commands.h"
#include "results_schema.h"
#include "terminal.h"

namespace boughlight::cli {

Run declare_schema(CLI::App& app) {
  auto what = std::make_shared<std::string>();
  std::vector<std::string> names = {"scene", "fixture", "material"};
  for (const ResultsSchema& schema : results_schemas()) names.emplace_back(schema.name);
  app.add_option("WHAT", *what, "Whose: yours, a survey's, or a planning command's")
      ->required()
      ->check(CLI::IsMember(names));
  app.footer(
      "Examples:\n"
      "  boughlight schema scene > boughlight-scene.json\n"
      "  boughlight schema fixture > boughlight-fixture.json\n"
      "  boughlight schema readings > boughlight-readings.json\n"
      "\n"
      "An editor with a language server for YAML then completes fields, shows what\n"
      "they mean and marks mistakes as you type, if the scene's first line is\n"
      "  # yaml-language-server: $schema=boughlight-scene.json\n"
      "\n"
      "readings and index are of results, for programs that read readings.json and\n"
      "index.json; those named as a command are of its own JSON, as --json prints it.");
  return [what](const CommonOptions&) {
    for (const ResultsSchema& schema : results_schemas()) {
      if (schema.name != *what) continue;
      put(schema.text);
      return kAllMet;
    }
    put(schema_json(*what == "scene"     ? SchemaOf::scene
                    : *what == "fixture" ? SchemaOf::fixture
                                         : SchemaOf::material));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
