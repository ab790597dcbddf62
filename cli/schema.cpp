// boughlight schema scene|fixture|material|readings|index

#include "report/schema.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <string>

#include "commands.h"
#include "results_schema.h"
#include "terminal.h"

namespace boughlight::cli {

Run declare_schema(CLI::App& app) {
  auto what = std::make_shared<std::string>();
  app.add_option("WHAT", *what, "Whose: scene, fixture, material, readings or index")
      ->required()
      ->check(CLI::IsMember({"scene", "fixture", "material", "readings", "index"}));
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
      "index.json.");
  return [what](const CommonOptions&) {
    if (*what == "readings" || *what == "index") {
      put(*what == "readings" ? kReadingsSchema : kIndexSchema);
      return kAllMet;
    }
    put(schema_json(*what == "scene"     ? SchemaOf::scene
                    : *what == "fixture" ? SchemaOf::fixture
                                         : SchemaOf::material));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
