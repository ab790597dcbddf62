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

// What stands after a word of the line.
struct Argument {
  std::vector<std::string> words;  // to choose from
  bool file = false, folder = false;
};

struct Choice {
  std::string name, purpose;
  Argument positional;
  std::vector<const CLI::Option*> options;
};

Argument argument_of(const CLI::Option& option) {
  Argument argument;
  argument.words = words_of(option);
  const std::string name = option.get_name(option.get_positional()), type = option.get_type_name();
  if (name.find("LAMP") != std::string::npos) argument.words = library_lamp_names();
  argument.file = name.find("SCENE") != std::string::npos || name.find("FILE") != std::string::npos ||
                  name.find("LAMP") != std::string::npos || type == "FILE";
  argument.folder = type == "DIR";
  return argument;
}

std::vector<Choice> choices(const std::vector<Declared>& declared) {
  std::vector<Choice> all;
  for (const Declared& command : declared) {
    Choice choice{command.app->get_name(), command.app->get_description(), {}, {}};
    bool has_positional = false;
    for (const CLI::Option* option : command.app->get_options()) {
      if (option->get_positional()) {
        // What comes after a scene is named in that scene.
        if (!has_positional) choice.positional = argument_of(*option);
        has_positional = true;
      } else {
        choice.options.push_back(option);
      }
    }
    all.push_back(std::move(choice));
  }
  return all;
}

bool takes_value(const CLI::Option& option) {
  return option.get_type_size() > 0;
}

std::vector<std::string> names_of(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  return names;
}

std::string joined(const std::vector<std::string>& words, const char* between = " ") {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : between) + word;
  return text;
}

std::string bash_script(const std::vector<Choice>& all) {
  std::vector<std::string> commands, folders, values;
  std::string cases, options;
  for (const Choice& choice : all) {
    commands.push_back(choice.name);
    std::vector<std::string> names;
    for (const CLI::Option* option : choice.options) {
      const auto of_option = names_of(*option);
      names.insert(names.end(), of_option.begin(), of_option.end());
      if (!takes_value(*option)) continue;
      auto& list = argument_of(*option).folder ? folders : values;
      list.insert(list.end(), of_option.begin(), of_option.end());
    }
    options += fmt::format("    {}) options='{}' ;;\n", choice.name, joined(names));
    cases += fmt::format("    {}) words='{}' files={} ;;\n", choice.name, joined(choice.positional.words),
                         choice.positional.file ? "yes" : "no");
  }
  return fmt::format(
      R"(# Completion of boughlight for bash: source this file, or put it into
# ~/.local/share/bash-completion/completions/boughlight
_boughlight() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} command= word
  local options='--help --version' words='{0}' files=no
  for word in "${{COMP_WORDS[@]:1:COMP_CWORD-1}}"; do
    case $word in {1}) command=$word; break ;; esac
  done
  case $command in
{2}  esac
  case $command in
{3}  esac
  case $before in
    {4}) mapfile -t COMPREPLY < <(compgen -d -- "$current"); return ;;
    {5}) COMPREPLY=(); return ;;
  esac
  if [[ $current == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$options" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current"; [[ $files == no ]] || compgen -f -- "$current")
  fi
}}
complete -o filenames -F _boughlight boughlight
)",
      joined(commands), joined(commands, "|"), options, cases, joined(folders, "|"), joined(values, "|"));
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
  if (argument.folder) return "_files -/";
  if (argument.file && !argument.words.empty())
    return fmt::format("_alternative \"names\\:name\\:({})\" \"files\\:file\\:_files\"",
                       joined(argument.words));
  if (argument.file) return "_files";
  return argument.words.empty() ? " " : fmt::format("({})", joined(argument.words));
}

std::string zsh_script(const std::vector<Choice>& all) {
  std::string commands, cases;
  for (const Choice& choice : all) {
    commands += fmt::format("    '{}:{}'\n", choice.name, quoted(choice.purpose, true));
    cases += fmt::format("        {})\n          _arguments \\\n", choice.name);
    for (const CLI::Option* option : choice.options)
      for (const std::string& name : names_of(*option))
        cases += fmt::format(
            "            '{}[{}]{}' \\\n", name, quoted(option->get_description(), true),
            takes_value(*option) ? fmt::format(":value:{}", zsh_action(argument_of(*option))) : "");
    cases += fmt::format("            '*:argument:{}' ;;\n", zsh_action(choice.positional));
  }
  return fmt::format(
      R"(#compdef boughlight
# Completion of boughlight for zsh: put this file, named _boughlight, into a folder of $fpath.
_boughlight() {{
  local -a commands=(
{}  )
  local state
  _arguments -C '--help[Print help]' '--version[Print the version]' '1:command:->command' '*::argument:->argument'
  case $state in
    command) _describe command commands ;;
    argument)
      case $words[1] in
{}      esac ;;
  esac
}}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _boughlight "$@"; else compdef _boughlight boughlight; fi
)",
      commands, cases);
}

std::string fish_script(const std::vector<Choice>& all) {
  std::string out =
      "# Completion of boughlight for fish: put this file into ~/.config/fish/completions/boughlight.fish\n"
      "complete -c boughlight -f\n"
      "complete -c boughlight -n __fish_use_subcommand -l help -s h -d 'Print help'\n"
      "complete -c boughlight -n __fish_use_subcommand -l version -d 'Print the version'\n";
  for (const Choice& choice : all)
    out += fmt::format("complete -c boughlight -n __fish_use_subcommand -a {} -d '{}'\n", choice.name,
                       quoted(choice.purpose, false));
  for (const Choice& choice : all) {
    const std::string when =
        fmt::format("complete -c boughlight -n '__fish_seen_subcommand_from {}'", choice.name);
    for (const CLI::Option* option : choice.options) {
      out += when;
      for (const std::string& name : option->get_snames()) out += " -s " + name;
      for (const std::string& name : option->get_lnames()) out += " -l " + name;
      if (takes_value(*option)) out += " -x";
      if (argument_of(*option).folder) out += " -a '(__fish_complete_directories)'";
      out += fmt::format(" -d '{}'\n", quoted(option->get_description(), false));
    }
    if (choice.positional.file) out += when + " -F\n";
    if (!choice.positional.words.empty())
      out += fmt::format("{} -a '{}'\n", when, joined(choice.positional.words));
  }
  return out;
}

}  // namespace

Run declare_completion(CLI::App& app) {
  auto shell = std::make_shared<std::string>();
  app.add_option("SHELL", *shell, "Which: bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  app.footer(
      "Examples:\n"
      "  source <(boughlight completion bash)\n"
      "  boughlight completion fish > ~/.config/fish/completions/boughlight.fish\n"
      "\n"
      "Commands, options, and the names of the library's lamps are completed.");
  return [shell](const CommonOptions&) {
    CLI::App line("", "boughlight");
    TypedOptions typed;
    const std::vector<Declared> declared = declare_line(line, typed);
    const std::vector<Choice> all = choices(declared);
    put(*shell == "bash" ? bash_script(all) : *shell == "zsh" ? zsh_script(all) : fish_script(all));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
