"use strict";
// A learner judges clips, then holds what was called against the key. Nothing leaves the page; points are whole thousandths.
const page = JSON.parse(document.getElementById("page").textContent);
const words = page.words, at = id => document.getElementById(id);
const store = "practice " + page.id, looks = store + " looked at";
let key = null, open = null, tally = remembered(store), looked = remembered(looks);

function remembered(place) {
  try { return JSON.parse(localStorage.getItem(place)) || {}; } catch { return {}; }
}
function remember() {
  try {
    localStorage.setItem(store, JSON.stringify(tally));
    localStorage.setItem(looks, JSON.stringify(looked));
  } catch { at("opened").textContent = words.not_kept; }
}
function make(name, told = {}, ...inside) {
  const made = document.createElement(name);
  for (const [what, said] of Object.entries(told)) {
    if (what.startsWith("on")) made.addEventListener(what.slice(2), said);
    else if (what in made && what !== "list") made[what] = said;
    else made.setAttribute(what, said);
  }
  made.append(...inside);
  return made;
}
const fill = (said, filled) => said.replace(/\{(\w+)\}/g, (_, name) => filled[name]);
const thousandths = text => Math.round(Number(text) * 1000);
const points = size => (size / 1000).toFixed(3).replace(".", page.decimal);

// The clips

function listClips() {
  at("list").replaceChildren(...page.clips.map(clip => make("li", {},
    make("button", {type: "button", onclick: () => show(clip)}, clip.name), " " + stateOf(clip))));
}
function stateOf(clip) {
  return tally[clip.id] ? words.answered : words.not_answered;
}
function show(clip) {
  const test = document.querySelector("input[name=mode]:checked").value === "test";
  if (open) URL.revokeObjectURL(open.url);
  const letters = atob(at(clip.id + "-picture").textContent.trim());
  const bytes = Uint8Array.from(letters, letter => letter.charCodeAt(0));
  open = {clip, test, rows: [], url: URL.createObjectURL(new Blob([bytes], {type: "video/mp4"}))};
  const video = at("video");
  video.src = open.url;
  video.setAttribute("aria-label", clip.name);
  at("desk").hidden = false;
  at("judging").textContent = clip.name;
  at("state").textContent = !test ? "" : looked[clip.id] ? words.looked : words.begins_once;
  layControls(video);
  layAnswer(clip);
  compare(clip);
  at("judging").focus();
}
function look() {
  looked[open.clip.id] = true;
  remember();
}
function layControls(video) {
  const step = by => () => { look(); video.pause(); video.currentTime = Math.max(0, video.currentTime + by * open.clip.frame); };
  const button = (told, does) => make("button", {type: "button", onclick: does}, told);
  if (open.test) {
    const begin = button(words.begin, () => { begin.disabled = true; look(); video.playbackRate = 1; video.play(); });
    begin.className = "chief";
    begin.disabled = Boolean(looked[open.clip.id]);
    video.onplay = null;
    video.onpause = () => { if (!video.ended && open.test) video.play(); };
    video.onended = () => { at("state").textContent = words.over; };
    video.oncontextmenu = event => event.preventDefault();  // it offers controls
    video.controls = false;
    at("controls").replaceChildren(begin);
    return;
  }
  video.onpause = video.onended = video.oncontextmenu = null;
  video.onplay = look;
  const speed = make("select", {"aria-label": words.speed, onchange: event => { video.playbackRate = Number(event.target.value); }},
    ...["0.25", "0.5", "1"].map(one => make("option", {value: one, selected: one === "1"}, one.replace(".", page.decimal) + "×")));
  at("controls").replaceChildren(button(words.play, () => video.paused ? video.play() : video.pause()),
    button(words.back, step(-1)), button(words.on, step(1)), speed);
}

// What the learner says

function layAnswer(clip) {
  const before = tally[clip.id];
  open.rows = before ? before.taken.map(one => ({...one})) : [];
  const parts = make("input", {type: "number", id: "parts", min: "0", max: "99", step: "1", value: before ? before.value_parts : "0"});
  const needed = clip.whole && page.requirements.length ? [make("fieldset", {}, make("legend", {}, words.requirements),
    ...page.requirements.map(one => make("div", {}, make("label", {}, make("input", {type: "checkbox", name: "met",
      value: one.code, checked: Boolean(before && before.met.includes(one.code))}), " " + one.name))))] : [];
  const done = make("button", {type: "submit", className: "chief"}, words.done);
  at("answer").replaceChildren(
    make("fieldset", {}, make("legend", {}, words.credit), make("label", {htmlFor: "parts"}, words.value_parts + " "), parts),
    ...needed,
    make("fieldset", {}, make("legend", {}, words.execution), make("div", {id: "taken"}), layAdding(), make("p", {id: "total"})),
    done);
  at("answer").onsubmit = event => { event.preventDefault(); keep(clip); };
  layTaken();
  fix(clip);
}
function fix(clip) {
  // What was held against the key stays, or the tally would count what the key had told.
  if (!keyOf(clip) || !tally[clip.id]) return;
  for (const one of at("answer").querySelectorAll("button, input, select")) one.disabled = true;
  at("answer").append(make("p", {}, words.fixed));
}
function layAdding() {
  const amounts = make("select", {id: "amount", "aria-label": words.amount});
  const faults = make("select", {id: "fault", "aria-label": words.fault, onchange: () => layAmounts()},
    ...page.faults.map(one => make("option", {value: one.code}, one.name)));
  const layAmounts = () => amounts.replaceChildren(...page.faults[faults.selectedIndex].amounts.map(
    one => make("option", {value: one}, points(thousandths(one)))));
  layAmounts();
  return make("div", {className: "row"}, faults, amounts, make("button", {type: "button", onclick: () => {
    open.rows.push({code: faults.value, amount: amounts.value});
    layTaken();
  }}, words.add));
}
function layTaken() {
  at("taken").replaceChildren(...open.rows.map((one, place) => make("div", {className: "row"},
    nameOf(one.code) + "  " + points(thousandths(one.amount)),
    make("button", {type: "button", "aria-label": words.remove + ": " + nameOf(one.code),
      onclick: () => { open.rows.splice(place, 1); layTaken(); }}, words.remove))));
  at("total").textContent = fill(words.total, {points: points(sum(open.rows))});
}
const nameOf = code => (page.faults.find(one => one.code === code) || {name: code}).name;
const sum = rows => rows.reduce((all, one) => all + thousandths(one.amount), 0);

function keep(clip) {
  if (open.test && !looked[clip.id]) { at("state").textContent = words.look_first; return; }
  const met = [...document.querySelectorAll("input[name=met]:checked")].map(one => one.value);
  const said = {mode: open.test ? "test" : "free", value_parts: Number(at("parts").value) || 0, met, taken: open.rows.map(one => ({...one}))};
  tally[clip.id] = said;
  remember();
  at("state").textContent = key ? words.kept : words.kept_locked;
  listClips();
  compare(clip);
  fix(clip);
  tell();
}

// The key

at("opening").addEventListener("submit", async event => {
  event.preventDefault();
  if (!window.crypto || !crypto.subtle) { at("opened").textContent = words.no_crypto; return; }
  at("opened").textContent = words.opening;
  try {
    key = JSON.parse(new TextDecoder().decode(await unlocked(page.key, at("phrase").value)));
  } catch { at("opened").textContent = words.wrong; return; }
  at("phrase").value = "";
  at("opened").textContent = words.is_open;
  if (open) { at("state").textContent = ""; compare(open.clip); fix(open.clip); }
  tell();
});
async function unlocked(locked, phrase) {
  const bytes = text => Uint8Array.from(atob(text), letter => letter.charCodeAt(0));
  const from = await crypto.subtle.importKey("raw", new TextEncoder().encode(phrase), "PBKDF2", false, ["deriveKey"]);
  const way = {name: "PBKDF2", hash: "SHA-256", salt: bytes(locked.salt), iterations: locked.rounds};
  const own = await crypto.subtle.deriveKey(way, from, {name: "AES-GCM", length: 256}, false, ["decrypt"]);
  return crypto.subtle.decrypt({name: "AES-GCM", iv: bytes(locked.nonce)}, own, bytes(locked.sealed));
}
const keyOf = clip => key && key.clips.find(one => one.id === clip.id);

function verdict(said, own) {
  const size = sum(said.taken), least = thousandths(own.least), most = thousandths(own.most);
  return size < least ? "soft" : size > most ? "hard" : "within";
}
function kinds(said, own) {
  // By kind: what was taken, and what the judges took, from the least to the most of them.
  const found = new Map();
  const of = code => found.get(code) || found.set(code, {own: 0, judges: own.judges.map(() => 0)}).get(code);
  for (const one of said.taken) of(one.code).own += thousandths(one.amount);
  own.judges.forEach((judge, place) => { for (const one of judge.taken) of(one.code).judges[place] += thousandths(one.amount); });
  return [...found].map(([code, one]) => ({code, own: one.own, least: Math.min(...one.judges), most: Math.max(...one.judges)}));
}
function compare(clip) {
  const own = keyOf(clip), said = tally[clip.id], place = at("compared");
  if (!own || !said) { place.replaceChildren(); return; }
  const range = own.least === own.most ? points(thousandths(own.least)) :
    fill(words.range, {least: points(thousandths(own.least)), most: points(thousandths(own.most))});
  const rows = [[words.value_parts, String(said.value_parts), String(own.value_parts)],
    [words.execution, points(sum(said.taken)), range + ", " + words[verdict(said, own)]]];
  for (const one of page.requirements) if (own.requirements) rows.push([one.name,
    said.met.includes(one.code) ? words.met : words.missing, own.requirements[one.code] ? words.met : words.missing]);
  place.replaceChildren(
    table(words.compared, ["", words.yours, words.keys], rows, []),
    table(words.by_kind, [words.fault, words.yours, words.judges_took], kinds(said, own).map(one => [nameOf(one.code),
      points(one.own), one.least === one.most ? points(one.least) : fill(words.range, {least: points(one.least), most: points(one.most)})]), [1, 2]),
    ...reasons(own));
}
function reasons(own) {
  const told = own.not_credited.map(one => one.why);
  own.judges.forEach((judge, place) => {
    for (const one of judge.taken) told.push(fill(words.took, {judge: place + 1, points: points(thousandths(one.amount)),
      why: (one.element ? one.element + ": " : "") + one.why, says: one.says}) +
      (one.frame === null ? "" : " " + fill(words.seen_at, {seconds: (one.frame * open.clip.frame).toFixed(2).replace(".", page.decimal)})));
  });
  return [make("h3", {}, words.reasons), make("ul", {}, ...told.map(one => make("li", {}, one)))];
}
function table(caption, heads, rows, numbers) {
  const number = place => numbers.includes(place) ? "number" : "";
  return make("div", {className: "scroll", tabIndex: 0, role: "region", "aria-label": caption}, make("table", {},
    make("caption", {}, caption),
    make("thead", {}, make("tr", {}, ...heads.map((head, place) => make(head ? "th" : "td", head ? {scope: "col", className: number(place)} : {}, head)))),
    make("tbody", {}, ...rows.map(row => make("tr", {}, ...row.map((cell, place) => make("td", {className: number(place)}, cell)))))));
}

// The tally

function tallied() {
  const found = {answered: 0, parts: 0, requirements: 0, asked: 0, hard: 0, soft: 0, within: 0, kinds: new Map()};
  for (const clip of page.clips) {
    const said = tally[clip.id], own = keyOf(clip);
    if (!said || !own) continue;
    found.answered += 1;
    found.parts += said.value_parts === own.value_parts;
    found[verdict(said, own)] += 1;
    for (const one of own.requirements ? page.requirements : []) {
      found.asked += 1;
      found.requirements += said.met.includes(one.code) === own.requirements[one.code];
    }
    for (const one of kinds(said, own)) {
      const row = found.kinds.get(one.code) || found.kinds.set(one.code, {hard: 0, soft: 0, within: 0}).get(one.code);
      row[one.own < one.least ? "soft" : one.own > one.most ? "hard" : "within"] += 1;
    }
  }
  return found;
}
function tell() {
  if (!key) { at("tally").replaceChildren(make("p", {}, words.locked_tally)); return; }
  const found = tallied(), of = (some, all) => fill(words.of, {some, all});
  at("tally").replaceChildren(
    table(words.tally, [words.what, words.count], [
      [words.value_parts_right, of(found.parts, found.answered)], [words.requirements_right, of(found.requirements, found.asked)],
      [words.too_hard, String(found.hard)], [words.too_soft, String(found.soft)], [words.within_range, String(found.within)]], []),
    table(words.on_what, [words.fault, words.too_hard, words.too_soft, words.within_range], [...found.kinds].map(([code, one]) =>
      [nameOf(code), String(one.hard), String(one.soft), String(one.within)]), [1, 2, 3]));
}
at("save").addEventListener("click", () => {
  const counts = key ? {...tallied(), kinds: Object.fromEntries(tallied().kinds)} : null;
  const written = {format: "reviewer.practice-tally/1", page: page.id, answers: tally, counts};
  const url = URL.createObjectURL(new Blob([JSON.stringify(written, null, 2) + "\n"], {type: "application/json"}));
  make("a", {href: url, download: "practice-tally.json"}).click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
});
at("clear").addEventListener("click", () => {
  tally = {};
  looked = {};
  remember();
  listClips();
  tell();
  if (open) show(open.clip);
  at("opened").textContent = words.cleared;
});
listClips();
tell();
