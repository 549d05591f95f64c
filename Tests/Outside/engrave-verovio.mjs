// Engraves a MusicXML document with verovio and prints what stands on the page as JSON, note by note:
//   node engrave-verovio.mjs FOLDER-WITH-NODE_MODULES FILE
// `place` counts lines and spaces up from the staff's bottom line, measured on the drawing.
import fs from 'fs';
import path from 'path';
import { createRequire } from 'module';
import { pathToFileURL } from 'url';

const [folder, file] = process.argv.slice(2);
const dist = path.join(path.resolve(folder), 'node_modules', 'verovio', 'dist');
const { default: createModule } = await import(pathToFileURL(path.join(dist, 'verovio-module.mjs')));
const { VerovioToolkit } = await import(pathToFileURL(path.join(dist, 'verovio.mjs')));
const { DOMParser } = createRequire(path.join(path.resolve(folder), 'node_modules', 'x.js'))('@xmldom/xmldom');

const toolkit = new VerovioToolkit(await createModule());
toolkit.setOptions({ breaks: 'none', adjustPageHeight: true, adjustPageWidth: true, pageWidth: 60000,
  header: 'none', footer: 'none' });
if (!toolkit.loadData(fs.readFileSync(file, 'utf8'))) process.exit(1);

const page = new DOMParser().parseFromString(toolkit.renderToSVG(1), 'image/svg+xml');
const kind = (node) => (node.getAttribute ? (node.getAttribute('class') || '').split(' ')[0] : '');
const inside = (node, name) => Array.from(node.getElementsByTagName('g')).filter((g) => kind(g) === name);
const glyph = (node) => {
  const use = node && node.getElementsByTagName('use')[0];
  if (!use) return null;
  const code = (use.getAttribute('xlink:href') || '').replace(/^#/, '').split('-')[0];
  const at = /translate\(([-\d.]+),\s*([-\d.]+)\)/.exec(use.getAttribute('transform') || '');
  return { code, y: at ? Number(at[2]) : Number(use.getAttribute('y')) };
};

// The five lines of the staff that holds a node.
function lines(node) {
  let staff = node;
  while (kind(staff) !== 'staff') staff = staff.parentNode;
  return Array.from(staff.childNodes)
    .filter((child) => child.nodeName === 'path')
    .map((child) => Number(/M[-\d.]+ ([-\d.]+)/.exec(child.getAttribute('d'))[1]))
    .sort((a, b) => a - b);
}

const notes = inside(page, 'note').map((note) => {
  const staff = lines(note);
  const half = (staff[4] - staff[0]) / 8;
  const head = glyph(inside(note, 'notehead')[0]);
  const accidental = glyph(inside(note, 'accid')[0]);
  let beam = note.parentNode;
  while (beam && kind(beam) !== 'beam' && kind(beam) !== 'staff') beam = beam.parentNode;
  return {
    place: Math.round((staff[4] - head.y) / half),
    head: head.code,
    accidental: accidental ? accidental.code : '',
    dots: inside(note, 'dots').reduce((sum, dots) => sum + dots.getElementsByTagName('ellipse').length, 0),
    accent: inside(note, 'artic').some((artic) => ['E4A0', 'E4A1'].includes((glyph(artic) || {}).code)),
    beam: beam && kind(beam) === 'beam' ? beam.getAttribute('id') : '',
    flag: inside(note, 'flag').length > 0,
  };
});
// Verovio draws an inner beam note by note: pieces that meet are one stroke.
function strokes(beam) {
  const pieces = Array.from(beam.childNodes).filter((child) => child.nodeName === 'polygon').map((polygon) => {
    const points = polygon.getAttribute('points').trim().split(/\s+/).map((point) => point.split(',').map(Number));
    const xs = points.map((point) => point[0]);
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const middle = (x) => {
      const ys = points.filter((point) => point[0] === x).map((point) => point[1]);
      return ys.reduce((sum, y) => sum + y, 0) / ys.length;
    };
    return { left, right, leftY: middle(left), rightY: middle(right) };
  }).sort((a, b) => a.left - b.left);
  const meets = (a, b) => Math.abs(a.right - b.left) < 40 && Math.abs(a.rightY - b.leftY) < 40;
  return pieces.filter((piece) => !pieces.some((before) => before !== piece && meets(before, piece))).length;
}
const beams = {};
for (const beam of inside(page, 'beam')) beams[beam.getAttribute('id')] = strokes(beam);
console.log(JSON.stringify({ notes, beams, slurs: inside(page, 'slur').length }));
