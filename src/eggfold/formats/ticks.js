
"use strict";
for (const card of document.querySelectorAll("article[data-card]")) {
  const key = "eggfold " + card.dataset.card, hours = 12;
  const boxes = [...card.querySelectorAll("input[type=checkbox]")];
  const part = name => card.querySelector(name);
  let kept = {bowl: 1, began: 0, ticks: []};
  const save = () => { try { localStorage.setItem(key, JSON.stringify(kept)); } catch (error) { /* not kept */ } };
  const show = () => {
    boxes.forEach((box, i) => { box.checked = kept.ticks.includes(i); });
    part(".number").textContent = kept.bowl;
    part(".began").textContent = kept.began ? "started " + new Date(kept.began).toLocaleString() : "";
    for (const section of card.querySelectorAll("section")) {
      const sum = section.querySelector(".sum");
      if (!sum) continue;
      const grams = [...section.querySelectorAll("input[data-g]:checked")]
        .reduce((all, box) => all + Number(box.dataset.g), 0);
      sum.hidden = false;
      sum.querySelector(".weight").textContent = Math.round(grams) + " g";
    }
  };
  try { kept = Object.assign(kept, JSON.parse(localStorage.getItem(key) || "{}")); } catch (error) { /* none */ }
  if (kept.began && Date.now() - kept.began > hours * 3600e3) {
    kept = {bowl: kept.bowl, began: 0, ticks: []};
    part(".told").textContent = "The ticks were over 12 hours old and are cleared.";
    save();
  }
  for (const box of boxes) box.addEventListener("change", () => {
    kept.began = kept.began || Date.now();
    kept.ticks = boxes.flatMap((one, i) => one.checked ? [i] : []);
    save();
    show();
  });
  part(".anew").addEventListener("click", () => {
    kept = {bowl: kept.bowl + 1, began: 0, ticks: []};
    part(".told").textContent = "";
    save();
    show();
  });
  part(".bar").hidden = false;
  show();
}
