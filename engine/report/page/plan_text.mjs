// A command's plain text as parts of a page: headings, lists, paragraphs, and tables left as they stand.
import {el} from "./dom.mjs";
import {sign} from "./sign.mjs";

const isItem = (line) => /^ {2}[-!] /.test(line), goesOn = (line) => /^ {4}\S/.test(line);

function listOf(lines) {
  const items = [];
  for (const line of lines) {
    if (isItem(line)) items.push({bad: line[2] === "!", text: line.slice(4)});
    else items.at(-1).text += ` ${line.trim()}`;
  }
  return el("ul", {class: "facts"}, items.map(({bad, text}) => el("li", {}, bad ? sign("bad") : "", text)));
}

function bodyOf(lines) {
  if (isItem(lines[0]) && lines.every((line) => isItem(line) || goesOn(line))) return listOf(lines);
  // What is set in columns keeps them.
  if (lines.some((line) => /\S {3,}\S/.test(line))) return el("pre", {class: "columns", tabindex: "0"}, lines.join("\n"));
  return el("p", {}, lines.map((line) => line.trim()).join(" "));
}

export function textBlocks(text) {
  return text.split(/\n\s*\n/).map((block) => block.split("\n").filter((line) => line.trim())).filter((lines) => lines.length)
    .map((lines) => {
      const headed = lines.length > 1 && !lines[0].startsWith(" ") && lines[1].startsWith(" ") && !/\S {3,}\S/.test(lines[0]);
      return el("div", {class: "text-block"}, headed && el("h3", {}, lines[0].trim()), bodyOf(headed ? lines.slice(1) : lines));
    });
}
