// Lays out the sheet-counting cases of JSON lines files with two general
// rectangle packers and prints the sheets they take beside the bound given in
// the file. Equal terms: every part and every usable sheet is one kerf larger
// each way, parts that keep their grain are not turned. Whether the cuts of a
// layout run from edge to edge is checked by recursion.
//
// With -kept the answers of Casewright stand in the same table; TIER=all takes
// every case, not only those of the small selection.
//
//   node compare.mjs [-kept ANSWERS.jsonl] FILE.jsonl...
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const { MaxRectsPacker } = await import("./node_modules/maxrects-packer/dist/maxrects-packer.mjs"); // its main file is no module
const MultiBinPacker = require("multi-bin-packer");

function guillotine(rects) {
  if (rects.length < 2) return true;
  for (const [at, size] of [["x", "width"], ["y", "height"]]) {
    const sorted = [...rects].sort((a, b) => a[at] - b[at]);
    const groups = [[]];
    let end = -Infinity;
    for (const r of sorted) {
      if (groups.at(-1).length && r[at] >= end) groups.push([]);
      groups.at(-1).push(r);
      end = Math.max(end, r[at] + r[size]);
    }
    if (groups.length > 1) return groups.every(guillotine);
  }
  return false;
}

const packers = {
  "maxrects-packer": (w, h, parts) => {
    const turn = parts.some((p) => p.turn);
    let best;
    for (const logic of [0, 1]) { // by area, by edge
      const p = new MaxRectsPacker(w, h, 0, { smart: false, pot: false, square: false, allowRotation: turn, logic });
      p.addArray(parts.map((q) => ({ width: q.w, height: q.h, allowRotation: q.turn, data: q })));
      const bins = p.bins.map((b) => b.rects);
      if (!best || bins.length < best.length) best = bins;
    }
    return best;
  },
  "multi-bin-packer": (w, h, parts) => { // turns nothing: the better of all upright and all lying
    let best;
    for (const lie of [0, 1]) {
      const p = new MultiBinPacker(w, h);
      p.addArray(parts.map((q) => {
        const t = lie && q.turn && q.h <= w && q.w <= h && q.w < q.h || q.w > w || q.h > h;
        return { width: t ? q.h : q.w, height: t ? q.w : q.h, data: q };
      }));
      const bins = p.bins.map((b) => b.rects);
      if (!best || bins.length < best.length) best = bins;
    }
    return best;
  },
};

const files = process.argv.slice(2);
const kept = new Map();
if (files[0] === "-kept") {
  const [, name] = files.splice(0, 2);
  for (const line of readFileSync(name, "utf8").split("\n")) {
    if (!line.endsWith("}")) continue; // the end of a run that was stopped
    const a = JSON.parse(line);
    if (a.valid) kept.set([a.file, a.instance, a.case].join(" "), a);
  }
}
const tier = process.env.TIER || "core";

console.log("file".padEnd(20), "packer".padEnd(18), "cases  sheets   bound  edge-to-edge  seconds");
for (const file of files) {
  const sum = {};
  const add = (name, c, sheets, edge, seconds) => {
    const a = (sum[name] ??= { cases: 0, sheets: 0, bound: 0, edge: 0, seconds: 0, missing: 0 });
    a.cases++;
    a.sheets += sheets;
    a.bound += c.lower;
    a.edge += edge ? 1 : 0;
    a.seconds += seconds;
    return a;
  };
  for (const line of readFileSync(file, "utf8").split("\n")) {
    if (!line.trim()) continue;
    const in_ = JSON.parse(line);
    if (in_.kind !== "2d" || in_.objective !== "sheets" || in_.sheets.length !== 1 || tier !== "all" && in_.tier !== tier) continue;
    for (const c of in_.cases) {
      const k = in_.kerf || 0, t = 2 * (in_.trim || 0), s = in_.sheets[0];
      const parts = in_.items.flatMap((i) => Array(i.qty).fill({ w: i.w + k, h: i.h + k, turn: c.rotate && i.rotate !== false }));
      const ours = kept.get([basename(file, ".jsonl"), in_.name, c.id].join(" "));
      if (ours) add("casewright", c, ours.value, true, ours.seconds);
      for (const [name, pack] of Object.entries(packers)) {
        const start = process.cpuUsage();
        const bins = pack(s.w - t + k, s.h - t + k, parts);
        const used = process.cpuUsage(start);
        const a = add(name, c, bins.length, bins.every(guillotine), (used.user + used.system) / 1e6);
        if (bins.flat().length !== parts.length || bins.flat().some((r) => r.oversized)) a.missing++;
      }
    }
  }
  for (const [name, a] of Object.entries(sum)) {
    console.log(basename(file, ".jsonl").padEnd(20), name.padEnd(18), String(a.cases).padStart(5), String(a.sheets).padStart(7), String(a.bound).padStart(7),
      `${a.edge} of ${a.cases}`.padStart(13), a.seconds.toFixed(1).padStart(8), a.missing ? `${a.missing} cases not laid out whole` : "");
  }
}
