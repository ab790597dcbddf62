// A command's plain text as parts of a page: headings, lists, paragraphs, and tables left as they stand.
import {el} from "./dom.mjs";
import {sign} from "./sign.mjs";

const isItem = (line) => /^ {2}[-!] /.test(line), goesOn = (line) => /^ {4}\S/.test(line);

// Items, paragraphs and columns, each with the lines that go with it.
function runsOfLines(lines) {
  const runs = [];
  for (const line of lines) {
    const last = runs.at(-1);
    if (isItem(line)) {
      if (last?.kind === "list") last.items.push([line]);
      else runs.push({kind: "list", items: [[line]]});
    } else if (last?.kind === "list" && goesOn(line)) {
      last.items.at(-1).push(line);
    } else if (last?.kind === "lines") {
      last.lines.push(line);
    } else {
      runs.push({kind: "lines", lines: [line]});
    }
  }
  return runs;
}

function runElement(run) {
  const joined = (lines) => lines.map((line) => line.trim()).join(" ");
  if (run.kind === "list")
    return el("ul", {class: "facts"}, run.items.map(([first, ...rest]) =>
      el("li", {}, first[2] === "!" ? sign("bad") : "", joined([first.slice(4), ...rest]))));
  // What is set in columns keeps them.
  if (run.lines.some((line) => /\S {3,}\S/.test(line))) return el("pre", {class: "columns", tabindex: "0"}, run.lines.join("\n"));
  return el("p", {}, joined(run.lines));
}

export function textBlocks(text) {
  return text.split(/\n\s*\n/).map((block) => block.split("\n").filter((line) => line.trim())).filter((lines) => lines.length)
    .map((lines) => {
      const headed = lines.length > 1 && !lines[0].startsWith(" ") && lines[1].startsWith(" ") && !/\S {3,}\S/.test(lines[0]);
      return el("div", {class: "text-block"}, headed && el("h3", {}, lines[0].trim()), runsOfLines(headed ? lines.slice(1) : lines).map(runElement));
    });
}
