// Drops, sends without leaving the page, puts the answer in place. The page works without it.
"use strict";
(() => {
  const form = document.getElementById("case");
  const notice = document.getElementById("notice");
  const files = document.getElementById("files");
  const drop = document.getElementById("drop");
  const words = document.body.dataset;
  const stacked = window.matchMedia("(max-width: 64rem)");
  if (!form) return;

  const say = (text) => { notice.textContent = text; };

  // The report is as high as what it holds, so that there is one scroll bar and not two.
  const fit = () => {
    const frame = document.getElementById("report");
    if (!frame) return;
    const settle = () => {
      const inside = frame.contentDocument;
      const drawn = inside && inside.URL !== "about:blank" && inside.readyState === "complete";
      document.getElementById("drawing").hidden = drawn;
      if (drawn) frame.style.height = `${inside.documentElement.getBoundingClientRect().height + 8}px`;
    };
    frame.addEventListener("load", settle);
    window.addEventListener("resize", settle);
    settle();
  };

  const putFields = (fresh) => {
    const old = document.getElementById("fields");
    if (!fresh.hasAttribute("data-fresh") && !old.querySelector(".fault")) return;
    const open = [...old.querySelectorAll("details[open]")].map((one) => one.id);
    const focus = document.activeElement && document.activeElement.id;
    old.replaceWith(document.adoptNode(fresh));
    for (const id of open) {
      const one = document.getElementById(id);
      if (one) one.open = true;
    }
    if (focus && document.getElementById(focus)) document.getElementById(focus).focus();
  };

  const put = (text) => {
    const page = new DOMParser().parseFromString(text, "text/html");
    const refusal = page.getElementById("refusal");
    if (refusal) { say(refusal.textContent); return; }
    document.title = page.title;
    putFields(page.getElementById("fields"));
    for (const id of ["kept", "notice", "outcome"]) {
      document.getElementById(id).replaceChildren(...page.getElementById(id).childNodes);
    }
    files.value = "";
    fit();
  };

  const send = async (what) => {
    if (form.getAttribute("aria-busy") === "true") return;
    const size = [...files.files].reduce((sum, one) => sum + one.size, 0);
    if (size > Number(words.mostBytes)) { files.value = ""; say(words.tooLarge); return; }
    const data = new FormData(form);
    data.set("do", what);
    form.setAttribute("aria-busy", "true");
    say(words.working);
    try {
      put(await (await fetch(location.pathname, { method: "POST", body: data })).text());
    } catch {
      say(words.ended);
    }
    form.removeAttribute("aria-busy");
    const [verb, part] = what.split(":");
    if (verb === "add") {
      const blocks = document.querySelectorAll(`fieldset.part[id^="${part}."] > legend + .fields`);
      const first = blocks.length && blocks[blocks.length - 1].querySelector("input, select, textarea");
      if (first) first.focus();
    } else if (stacked.matches && (verb === "assess" || notice.querySelector(".faults"))) {
      document.getElementById("result").focus();
    }
  };

  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (button && button.hasAttribute("data-plain")) return;
    event.preventDefault();
    send(button ? button.value : "assess");
  });

  files.addEventListener("change", () => { if (files.files.length) send("files"); });
  drop.querySelector('button[value="files"]').hidden = true;

  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => {
      event.preventDefault();
      drop.classList.add("over");
    });
  }
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) drop.classList.remove("over");
  });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    drop.classList.remove("over");
    if (!event.dataTransfer.files.length) return;
    files.files = event.dataTransfer.files;
    send("files");
  });

  // A link to a faulty field opens what hides it.
  notice.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    const field = link && document.getElementById(decodeURIComponent(link.hash.slice(1)));
    if (!field) return;
    event.preventDefault();
    const more = field.closest("details");
    if (more) more.open = true;
    field.focus();
    field.scrollIntoView({ block: "center" });
  });

  fit();
})();
