// Reads MusicXML documents with verovio and writes what it read as MEI:
//   node read-scores.mjs FOLDER-WITH-NODE_MODULES TARGET-FOLDER FILE...
// Each FILE becomes TARGET-FOLDER/<name without suffix>.mei; one that verovio refuses becomes none.
import fs from 'fs';
import path from 'path';
import { pathToFileURL } from 'url';

const [folder, target, ...files] = process.argv.slice(2);
const dist = path.join(path.resolve(folder), 'node_modules', 'verovio', 'dist');
const { default: createModule } = await import(pathToFileURL(path.join(dist, 'verovio-module.mjs')));
const { VerovioToolkit } = await import(pathToFileURL(path.join(dist, 'verovio.mjs')));
const toolkit = new VerovioToolkit(await createModule());
toolkit.setOptions({ breaks: 'none' });

// The toolkit takes text; a document may come in UTF-16 with a byte order mark.
function text(bytes) {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  return new TextDecoder('utf-8').decode(bytes);
}

function load(file) {
  const bytes = fs.readFileSync(file);
  if (!file.endsWith('.mxl')) return toolkit.loadData(text(bytes));
  return toolkit.loadZipDataBuffer(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}

fs.mkdirSync(target, { recursive: true });
for (const file of files) {
  const name = path.basename(file).replace(/\.[^.]*$/, '');
  if (load(file)) fs.writeFileSync(path.join(target, `${name}.mei`), toolkit.getMEI({}));
}
