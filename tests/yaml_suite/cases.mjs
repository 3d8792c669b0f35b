// Writes the cases of the npm package in the folder that the first word names as one JSON text, a case a line. With a second
// word, `all`, those that name people are among them.
import { pathToFileURL } from "node:url";

const [folder, all] = process.argv.slice(2);
const { default: suite } = await import(pathToFileURL(`${folder}/index.js`));
// Examples of the YAML standard with sportsmen, clubs and authors in them: they are not kept in this repository.
const PEOPLE = /McGwire|Sosa|Griff|Cubs|Tigers|Dumars|Walkman|Ingy|Oren|Evans/;

const list = [];
for (const { id, cases } of suite) {
  // Within a group a case has from the one before it what it does not state, but for its failing.
  let [tree, json] = [undefined, undefined];
  cases.forEach((one, index) => {
    tree = one.tree ?? tree;
    json = one.json === null ? undefined : (one.json ?? json);
    const fail = one.fail === true;
    const name = cases.length > 1 ? `${id}/${String(index).padStart(2, "0")}` : id;
    list.push({ id: name, fail, yaml: one.yaml, tree: fail ? undefined : tree, json: fail ? undefined : json });
  });
}
if (list.some(({ fail, yaml, tree }) => typeof yaml !== "string" || (!fail && typeof tree !== "string"))) {
  throw new Error("the package has another shape than before");
}
const kept = list.filter(({ yaml }) => all === "all" || !PEOPLE.test(yaml));
kept.sort((a, b) => (a.id < b.id ? -1 : 1));
console.log(`[\n${kept.map((one) => JSON.stringify(one)).join(",\n")}\n]`);
