// boughlight completion bash|zsh|fish

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <string>

#include "line.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

// What stands at a place of the line, or after an option.
struct Argument {
  std::vector<std::string> words;  // to choose from
  bool file = false, folder = false;
  std::string of_scene;  // what of the scene on the line it names: "lamps" or "perches"; empty: nothing
  bool commas = false;   // several words in one, with commas between
  bool many = false;     // goes on until the next option
};

struct Choice {
  std::string name, purpose;  // of the command; no name: what stands before one
  std::vector<Argument> positionals;
  std::vector<const CLI::Option*> options;
};

Argument argument_of(const CLI::Option& option) {
  Argument argument;
  argument.words = words_of(option);
  argument.commas = option.get_delimiter() != '\0';
  argument.many = option.get_expected_max() > 1;
  const std::string type = option.get_type_name();
  const std::string what = type == "TEXT" ? option.get_name(true) : type;
  if (what == "FIXTURE") argument.words = library_lamp_names();
  argument.file = what == "SCENE" || what == "FILE" || what == "READINGS.csv" || what == "FIXTURE";
  argument.folder = what == "DIR";
  if (what == "LAMP") argument.of_scene = "lamps";
  if (what == "PERCH") argument.of_scene = "perches";
  return argument;
}

Choice choice_of(const CLI::App& app, const std::string& name) {
  Choice choice{name, app.get_description(), {}, {}};
  for (const CLI::Option* option : app.get_options()) {
    if (option->get_positional()) {
      choice.positionals.push_back(argument_of(*option));
    } else if (option->get_group() != kIdleGroup) {
      choice.options.push_back(option);
    }
  }
  return choice;
}

std::vector<std::string> names_of(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  return names;
}

std::string joined(const std::vector<std::string>& words, const char* between = " ") {
  return CLI::detail::join(words, between);
}

// Names of a scene's lamps or perches, from what `check` tells of it.
std::string names_in_scene(const char* scene, const char* part) {
  return fmt::format(
      R"sed(boughlight check {} --json 2>/dev/null | sed -n '/"'{}'": \[/,/^  ]/s/^      "name": "\(.*\)",$/\1/p')sed",
      scene, part);
}

std::string bash_settings(const Argument& argument) {
  std::string settings;
  if (!argument.words.empty()) settings += fmt::format(" words='{}'", joined(argument.words));
  if (argument.file) settings += " files=yes";
  if (argument.folder) settings += " folders=yes";
  if (!argument.of_scene.empty()) settings += " part=" + argument.of_scene;
  if (argument.commas) settings += " commas=yes";
  return settings;
}

std::string bash_script(const std::vector<Choice>& all) {
  std::string options, offers;
  std::vector<std::string> valued, many;
  const auto offer = [&](const std::string& where, const Argument& argument) {
    const std::string settings = bash_settings(argument);
    if (!settings.empty()) offers += fmt::format("    {}){} ;;\n", where, settings);
  };
  for (const Choice& choice : all) {
    std::vector<std::string> names;
    for (const CLI::Option* option : choice.options) {
      const Argument argument = argument_of(*option);
      std::vector<std::string> places;
      for (const std::string& name : names_of(*option)) {
        names.push_back(name);
        places.push_back(fmt::format("'{} {}'", choice.name, name));
      }
      if (!takes_value(*option)) continue;
      valued.insert(valued.end(), places.begin(), places.end());
      if (argument.many) many.insert(many.end(), places.begin(), places.end());
      offer(joined(places, "|"), argument);
    }
    options += fmt::format("    '{}') options='{}' ;;\n", choice.name, joined(names));
    for (std::size_t i = 0; i < choice.positionals.size(); ++i)
      offer(choice.positionals[i].many ? fmt::format("'{} '[0-9]*", choice.name)
                                       : fmt::format("'{} {}'", choice.name, i),
            choice.positionals[i]);
  }
  return fmt::format(
      R"(# Completion of boughlight for bash: source this file, or put it into
# ~/.local/share/bash-completion/completions/boughlight
_boughlight() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} command= slot= scene= word head=
  local options= words= files= folders= part= commas=
  local -i place=0
  [[ $current != '=' ]] || current=
  for word in "${{COMP_WORDS[@]:1:COMP_CWORD-1}}"; do
    [[ $word != '=' ]] || continue
    [[ -n $scene || ! -f $word ]] || scene=$word
    if [[ $word == -* ]]; then
      slot=
      case "$command $word" in {0}) slot=$word ;; esac
    elif [[ -n $slot ]]; then
      case "$command $slot" in {1}) ;; *) slot= ;; esac
    elif [[ -z $command ]]; then
      command=$word
    else
      place+=1
    fi
  done
  case $command in
{2}  esac
  if [[ $current == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$options" -- "$current")
    return
  fi
  case "$command ${{slot:-$place}}" in
{3}  esac
  [[ -z $commas || $current != *,* ]] || head=${{current%,*}},
  mapfile -t COMPREPLY < <(
    [[ -z $words ]] || compgen -P "$head" -W "$words" -- "${{current#"$head"}}"
    [[ -z $files ]] || compgen -f -- "$current"
    [[ -z $folders ]] || compgen -d -- "$current"
    [[ -z $part ]] || {4} |
      while IFS= read -r word; do
        [[ $word != "${{current#[\'\"]}}"* ]] || printf '%s\n' "$word"
      done)
}}
complete -o filenames -F _boughlight boughlight
)",
      joined(valued, "|"), joined(many, "|"), options, offers, names_in_scene("\"$scene\"", "\"$part\""));
}

// Inside single quotes, as zsh and fish have them; ':', '[' and ']' mean something to _arguments.
std::string quoted(const std::string& text, bool zsh) {
  std::string out;
  for (char c : text) {
    if (c == '\'') {
      out += zsh ? "'\\''" : "\\'";
      continue;
    }
    if (zsh && (c == ':' || c == '[' || c == ']')) out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_action(const Argument& argument) {
  const std::string words = joined(argument.words);
  if (argument.folder) return "_files -/";
  if (argument.file && !words.empty())
    return fmt::format(" _alternative \"names\\:name\\:({})\" \"files\\:file\\:_files\"", words);
  if (argument.file) return "_files";
  if (!argument.of_scene.empty()) return " _boughlight_in_scene " + argument.of_scene;
  if (argument.commas && !words.empty()) return " _values -s , word " + words;
  return words.empty() ? " " : fmt::format("({})", words);
}

std::string zsh_options(const Choice& choice, const std::string& indent) {
  std::string out;
  for (const CLI::Option* option : choice.options) {
    const Argument argument = argument_of(*option);
    const std::string value =
        takes_value(*option) ? fmt::format("{}:value:{}", argument.many ? ":*-*" : "", zsh_action(argument))
                             : "";
    for (const std::string& name : names_of(*option))
      out += fmt::format("{}'{}[{}]{}' \\\n", indent, name, quoted(option->get_description(), true), value);
  }
  return out;
}

std::string zsh_script(const std::vector<Choice>& all) {
  std::string commands, cases;
  for (const Choice& choice : all) {
    if (choice.name.empty()) continue;
    commands += fmt::format("    '{}:{}'\n", choice.name, quoted(choice.purpose, true));
    cases += fmt::format("        {})\n          _arguments \\\n{}", choice.name,
                         zsh_options(choice, "            "));
    for (std::size_t i = 0; i < choice.positionals.size(); ++i) {
      const Argument& argument = choice.positionals[i];
      cases += fmt::format("            '{}:argument:{}' \\\n", argument.many ? "*" : std::to_string(i + 1),
                           zsh_action(argument));
    }
    cases += "            && return ;;\n";
  }
  return fmt::format(
      R"zsh(#compdef boughlight
# Completion of boughlight for zsh: put this file, named _boughlight, into a folder of $fpath.
_boughlight_in_scene() {{
  local word
  local -a names
  for word in ${{(Q)words[2,-1]}}; do [[ ! -f $word ]] || break; done
  names=(${{(f)"$({2})"}})
  compadd -a names
}}
_boughlight() {{
  local -a commands=(
{0}  )
  local state
  _arguments -C -A "-*" \
{3}    '1:command:->command' '*::argument:->argument'
  case $state in
    command) _describe command commands ;;
    argument)
      case $words[1] in
{1}      esac ;;
  esac
}}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _boughlight "$@"; else compdef _boughlight boughlight; fi
)zsh",
      commands, cases, names_in_scene("\"$word\"", "\"$1\""), zsh_options(all.front(), "    "));
}

// What is offered after -n CONDITION, and after the option that takes it.
std::string fish_offer(const Argument& argument) {
  std::string out;
  if (argument.folder) out += " -a '(__fish_complete_directories)'";
  if (!argument.of_scene.empty()) out += fmt::format(" -a '(__boughlight_in_scene {})'", argument.of_scene);
  const std::string words = joined(argument.words);
  if (!words.empty())
    out += argument.commas ? " -a '(__fish_append , " + words + ")'" : " -a '" + words + "'";
  return (argument.file ? " -F" : "") + out;
}

std::string fish_script(const std::vector<Choice>& all) {
  std::string out = fmt::format(
      R"(# Completion of boughlight for fish: put this file into ~/.config/fish/completions/boughlight.fish
function __boughlight_in_scene
    for word in (commandline -opc)[2..]
        test -f $word; and {}; and return
    end
end
complete -c boughlight -f
)",
      names_in_scene("$word", "$argv[1]"));
  for (const Choice& choice : all)
    if (!choice.name.empty())
      out += fmt::format("complete -c boughlight -n __fish_use_subcommand -a {} -d '{}'\n", choice.name,
                         quoted(choice.purpose, false));
  for (const Choice& choice : all) {
    const std::string seen =
        choice.name.empty() ? "__fish_use_subcommand" : "__fish_seen_subcommand_from " + choice.name;
    const std::string when = fmt::format("complete -c boughlight -n '{}'", seen);
    for (const CLI::Option* option : choice.options) {
      const Argument argument = argument_of(*option);
      out += when;
      for (const std::string& name : option->get_snames()) out += " -s " + name;
      for (const std::string& name : option->get_lnames()) out += " -l " + name;
      if (takes_value(*option)) out += (argument.file ? " -r" : " -x") + fish_offer(argument);
      out += fmt::format(" -d '{}'\n", quoted(option->get_description(), false));
      if (argument.many && argument.file)
        out += fmt::format("complete -c boughlight -n '{}; and __fish_contains_opt {}' -F\n", seen,
                           option->get_lnames().front());
    }
    for (const Argument& argument : choice.positionals)
      if (const std::string offer = fish_offer(argument); !offer.empty()) out += when + offer + "\n";
  }
  return out;
}

}  // namespace

Run declare_completion(CLI::App& app) {
  auto shell = std::make_shared<std::string>();
  app.add_option("SHELL", *shell, "Which: bash, zsh or fish")
      ->required()
      ->check(one_of_words({"bash", "zsh", "fish"}));
  app.footer(
      "Examples:\n"
      "  source <(boughlight completion bash)\n"
      "  boughlight completion fish > ~/.config/fish/completions/boughlight.fish\n"
      "\n"
      "Completed are commands, options and their words, files, folders, the library's\n"
      "lamps, and the lamps and perches of the scene on the line.");
  return [shell](const CommonOptions&) {
    const WholeLine line;
    std::vector<Choice> all = {choice_of(line.app, "")};
    Argument& command = all.front().positionals.emplace_back();
    for (const Declared& one : line.declared) {
      command.words.push_back(one.app->get_name());
      all.push_back(choice_of(*one.app, one.app->get_name()));
    }
    put(*shell == "bash" ? bash_script(all) : *shell == "zsh" ? zsh_script(all) : fish_script(all));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
