// boughlight schema scene|fixture|material|readings|index|place|window|compare|outlook|fit|tune

#include "report/schema.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <string>
#include <vector>

#include "commands.h"
#include "options.h"
#include "results_schema.h"
#include "terminal.h"

namespace boughlight::cli {

Run declare_schema(CLI::App& app) {
  auto what = std::make_shared<std::string>();
  std::vector<std::string> names = {"scene", "fixture", "material"};
  for (const ResultsSchema& schema : results_schemas()) names.emplace_back(schema.name);
  app.add_option("WHAT", *what, "Whose: yours, a survey's, or a planning command's")
      ->required()
      ->check(one_of_words(names));
  app.footer(
      "Examples:\n"
      "  boughlight schema scene > scene.schema.json\n"
      "  boughlight schema fixture > fixture.schema.json\n"
      "  boughlight schema readings > readings.schema.json\n"
      "\n"
      "An editor with a language server for YAML then completes fields, shows what\n"
      "they mean and marks mistakes as you type, if a remark of the file says\n"
      "  # yaml-language-server: $schema=scene.schema.json\n"
      "as it does in what 'boughlight new' writes. A lamp's file says fixture, one of\n"
      "materials says material, in place of scene; the schema lies beside the file.\n"
      "\n"
      "readings and index are of results, for programs that read readings.json and\n"
      "index.json; those named as a command are of its own JSON, as --json prints it.");
  return [what](const CommonOptions&) {
    for (const ResultsSchema& schema : results_schemas()) {
      if (schema.name != *what) continue;
      put(results_schema_json(schema.text));
      return kAllMet;
    }
    put(schema_json(*what == "scene"     ? SchemaOf::scene
                    : *what == "fixture" ? SchemaOf::fixture
                                         : SchemaOf::material));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
