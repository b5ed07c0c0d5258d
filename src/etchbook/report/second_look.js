"use strict";
(() => {
  const one = (name, from = document) => from.querySelector(name);
  const all = (name, from = document) => [...from.querySelectorAll(name)];
  const stand = one(".stand");
  const sheets = all(".sheet");
  let sheet = sheets[0];
  const view = { x: 0, y: 0, s: 1 };
  const size = () => [Number(sheet.dataset.width), Number(sheet.dataset.height)];

  // The picture: where it lies in the stand and how large.
  const least = () => Math.min(stand.clientWidth / size()[0], stand.clientHeight / size()[1]) * 0.9;
  const hold = () => {
    const [w, h] = size();
    view.s = Math.min(Math.max(view.s, least()), 24);
    const keep = 60;
    view.x = Math.min(Math.max(view.x, keep - w * view.s), stand.clientWidth - keep);
    view.y = Math.min(Math.max(view.y, keep - h * view.s), stand.clientHeight - keep);
  };
  const draw = () => {
    hold();
    const [w, h] = size();
    sheet.style.width = `${w * view.s}px`;
    sheet.style.height = `${h * view.s}px`;
    sheet.style.transform = `translate(${view.x}px, ${view.y}px)`;
    sheet.classList.toggle("near", view.s > 2);
    all(".flag", stand).forEach((flag) => {
      flag.hidden = flag.dataset.sheet !== sheet.dataset.sheet;
      flag.style.left = `${view.x + Number(flag.dataset.x) * view.s}px`;
      flag.style.top = `${view.y + Number(flag.dataset.y) * view.s}px`;
    });
    bar();
  };
  const bar = () => {
    const perMm = Number(sheet.dataset.scale);
    const box = one(".scale");
    if (!perMm) {
      box.textContent = `${Math.round(view.s * 100)} % of the picture's pixels; this picture has no scale`;
      return;
    }
    const room = 160 / (perMm * view.s);
    const step = [10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005].find((mm) => mm <= room) || 0.005;
    box.innerHTML = "";
    const line = document.createElement("span");
    line.style.width = `${step * perMm * view.s}px`;
    box.append(`${step} mm`, line);
  };
  const zoom = (times, x, y) => {
    const before = view.s;
    view.s *= times;
    view.s = Math.min(Math.max(view.s, least()), 24);
    view.x = x - (x - view.x) * (view.s / before);
    view.y = y - (y - view.y) * (view.s / before);
    draw();
  };
  const middle = (times) => zoom(times, stand.clientWidth / 2, stand.clientHeight / 2);
  const show = (left, top, right, bottom) => {
    view.s = Math.min(stand.clientWidth / (right - left), stand.clientHeight / (bottom - top));
    view.x = stand.clientWidth / 2 - ((left + right) / 2) * view.s;
    view.y = stand.clientHeight / 2 - ((top + bottom) / 2) * view.s;
    draw();
  };
  const whole = () => show(0, 0, ...size());

  stand.addEventListener("wheel", (event) => {
    event.preventDefault();
    const edge = stand.getBoundingClientRect();
    zoom(Math.exp(-event.deltaY / 400), event.clientX - edge.left, event.clientY - edge.top);
  }, { passive: false });
  const held = new Map();
  stand.addEventListener("pointerdown", (event) => { held.set(event.pointerId, event); stand.setPointerCapture(event.pointerId); });
  const let_go = (event) => held.delete(event.pointerId);
  stand.addEventListener("pointerup", let_go);
  stand.addEventListener("pointercancel", let_go);
  stand.addEventListener("pointermove", (event) => {
    const before = held.get(event.pointerId);
    if (!before) return;
    const other = [...held.values()].find((each) => each.pointerId !== event.pointerId);
    if (other) {
      const edge = stand.getBoundingClientRect();
      const far = (a) => Math.hypot(a.clientX - other.clientX, a.clientY - other.clientY) || 1;
      zoom(far(event) / far(before), other.clientX - edge.left, other.clientY - edge.top);
    } else {
      view.x += event.clientX - before.clientX;
      view.y += event.clientY - before.clientY;
      draw();
    }
    held.set(event.pointerId, event);
  });
  stand.addEventListener("keydown", (event) => {
    const moves = { ArrowLeft: [60, 0], ArrowRight: [-60, 0], ArrowUp: [0, 60], ArrowDown: [0, -60] };
    if (moves[event.key]) { view.x += moves[event.key][0]; view.y += moves[event.key][1]; draw(); }
    else if (event.key === "+" || event.key === "=") middle(1.4);
    else if (event.key === "-") middle(1 / 1.4);
    else if (event.key === "0") whole();
    else return;
    event.preventDefault();
  });
  const choose = (name) => {
    sheet = sheets.find((each) => each.dataset.sheet === name);
    sheets.forEach((each) => { each.hidden = each !== sheet; });
    all("[data-choose]").forEach((word) => word.setAttribute("aria-pressed", String(word.dataset.choose === name)));
    whole();
  };
  const acts = {
    closer: () => middle(1.6), further: () => middle(1 / 1.6), whole,
    pixels: () => middle(1 / view.s),
    lines: (word) => {
      const off = stand.classList.toggle("hidden-lines");
      word.textContent = off ? "Show the lines" : "Hide the lines";
    },
  };
  all("[data-act]").forEach((word) => word.addEventListener("click", () => acts[word.dataset.act](word)));
  all("[data-choose]").forEach((word) => word.addEventListener("click", () => choose(word.dataset.choose)));
  all("[data-window]").forEach((word) => word.addEventListener("click", () => {
    if (sheet !== sheets[0]) choose(sheets[0].dataset.sheet);
    show(...word.dataset.window.split(" ").map(Number));
    stand.scrollIntoView({ block: "start" });
  }));
  addEventListener("resize", draw);
  choose(sheets[0].dataset.sheet);

  // The answers: a short block of text with a checksum against slips of copying.
  const tidy = (text) => text.normalize("NFC").replace(/\s+/g, " ").trim();
  const sum = (text) => {
    let crc = 0xffffffff;
    for (const byte of new TextEncoder().encode(text)) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
    }
    return ((crc ^ 0xffffffff) >>> 0).toString(16).padStart(8, "0");
  };
  // Mail breaks long lines, and a broken line would no longer fit the checksum: words go out in short ones.
  const short = (text, most = 56) => {
    const rows = [""];
    for (const word of text.split(" ").flatMap((part) => part.match(/.{1,50}/gu) || [])) {
      const last = rows.length - 1;
      if (rows[last] && rows[last].length + word.length >= most) rows.push(word);
      else rows[last] = rows[last] ? `${rows[last]} ${word}` : word;
    }
    return rows.filter(Boolean);
  };
  const block = () => {
    const by = tidy(one("#by").value);
    const ask = one("#ask");
    if (!by) { ask.textContent = "Please write your code or initials first."; one("#by").focus(); return; }
    const rows = [one("main").dataset.head, `reading ${one("main").dataset.reading}`, `by ${by}`];
    all("input:checked").forEach((box) => {
      if (box.value) rows.push(`answer ${box.dataset.of} ${box.dataset.question} ${box.value}`);
    });
    all("textarea[data-of]").forEach((box) => {
      short(tidy(box.value)).forEach((row) => rows.push(`words ${box.dataset.of} ${row}`));
    });
    if (rows.length === 3) { ask.textContent = "Nothing is ticked and nothing is written yet."; return; }
    rows.push(`checksum ${sum(rows.join("\n"))}`);
    one("#block").value = rows.join("\n");
    ask.textContent = "Send this text back as it is; it may stand in the middle of a mail.";
    one("#block").focus();
    one("#block").select();
  };
  one("#make").addEventListener("click", block);
  one("#copy").addEventListener("click", () => {
    const told = (good) => { one("#ask").textContent = good ? "Copied." : "Marked; copy it with Ctrl+C."; };
    one("#block").select();
    if (navigator.clipboard) navigator.clipboard.writeText(one("#block").value).then(() => told(true), () => told(false));
    else told(false);
  });
})();
