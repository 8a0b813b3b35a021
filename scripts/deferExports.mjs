/**
 * Have a compiled file that passes on what others export load each of them when it is first asked for, not at once.
 *
 * @param {string} code as TypeScript writes it: `var a_1 = require("./a")` and a getter that returns `a_1.a`. What is
 * passed on as a whole (`export *`) stays as it is.
 */
export function deferExports(code) {
  const files = new Map(
    [...code.matchAll(/^(?:var|const) (\w+) = (require\("[^"]+"\));\n/gm)].map(([, name, asks]) => [name, asks]),
  );
  return code
    .replace(/^(?:var|const) \w+ = require\("[^"]+"\);\n/gm, '')
    .replace(/return (\w+)\.(\w+);/g, (whole, file, name) =>
      files.has(file) ? `return ${files.get(file)}.${name};` : whole,
    );
}
