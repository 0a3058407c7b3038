// What the pages do by themselves. Without it everything that is recorded on a working day still works, by plain forms.
// - asks every two seconds whether something was recorded elsewhere, and shows what is wrong now; the parts of a page that tell of now
//   (temperatures, time still to hold, time out of the cold) are brought up to date where they stand;
// - says so when the page is older than two minutes, and lets nothing be released from it then;
// - keeps a form that could not be sent, and sends it once when the kitchen's machine is back, by the same person, under the same key;
// - takes no second tap within half a second; the ± button; the error that comes first is shown first.
"use strict";
(() => {
  const body = document.body;
  body.classList.add("scripted");
  const every = 2000;
  const staleAfter = 120000;
  const store = "kitchen.kept";
  const show = (id, words) => {
    const line = document.getElementById(id);
    if (!line) return;
    if (typeof words === "string") line.textContent = words;
    line.hidden = words === false;
  };
  const now = () => Date.now();

  // Taps.
  let lastTap = { at: 0, on: null };
  document.addEventListener("click", (event) => {
    const on = event.target.closest("button, a.button, summary");
    if (!on) return;
    if (lastTap.on === on && now() - lastTap.at < 500) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    lastTap = { at: now(), on };
    const field = on.dataset.minus && document.getElementById(on.dataset.minus);
    if (field) {
      field.value = /^[-−]/.test(field.value) ? field.value.slice(1) : "-" + field.value;
      field.focus();
    }
  }, true);

  const first = document.querySelector(".refused");
  if (first) first.focus();

  // What was kept while the machine could not be reached.
  const kept = () => {
    try {
      return JSON.parse(localStorage.getItem(store) || "[]");
    } catch {
      return [];
    }
  };
  const keep = (list) => {
    try {
      localStorage.setItem(store, JSON.stringify(list));
      return true;
    } catch {
      return false;
    }
  };
  const tellKept = (why) => {
    const list = kept();
    const line = document.getElementById("kept");
    if (!line) return;
    line.hidden = list.length === 0;
    line.replaceChildren();
    const waiting = list.filter((one) => !one.wrong).length;
    if (waiting) line.append(`${waiting === 1 ? "1 note is" : `${waiting} notes are`} kept on this device and not booked yet. ${why || "They are sent when the kitchen's machine can be reached."} `);
    for (const one of list.filter((other) => other.wrong)) {
      line.append("One note that was kept could not be booked as it was typed. ");
      const again = document.createElement("form");
      again.method = "post";
      again.action = one.action;
      again.className = "actions";
      for (const [name, value] of one.wrong) {
        const field = document.createElement("input");
        field.type = "hidden";
        field.name = name;
        field.value = value;
        again.append(field);
      }
      const look = document.createElement("button");
      look.textContent = "Look what is wrong";
      const away = document.createElement("button");
      away.type = "button";
      away.textContent = "It is booked, or not needed: throw it away";
      away.addEventListener("click", () => {
        keep(kept().filter((other) => keyOf(other) !== keyOf(one)));
        tellKept();
      });
      again.append(look, away);
      line.append(again);
    }
  };
  const keyOf = (one) => (one.fields.find(([name]) => name === "key") || [])[1];
  const moment = (at) => {
    const two = (n) => String(n).padStart(2, "0");
    const east = -at.getTimezoneOffset();
    const offset = `${east < 0 ? "-" : "+"}${two(Math.floor(Math.abs(east) / 60))}:${two(Math.abs(east) % 60)}`;
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}${offset}`;
  };
  const post = (action, fields) => fetch(action, { method: "POST", body: new URLSearchParams(fields), credentials: "same-origin" });

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (form.dataset.sending) {
      event.preventDefault();
      return;
    }
    if (!("kept" in form.dataset)) {
      form.dataset.sending = "1";
      setTimeout(() => delete form.dataset.sending, 4000);
      return;
    }
    event.preventDefault();
    form.dataset.sending = "1";
    const fields = [...new FormData(form, event.submitter)].map(([name, value]) => [name, String(value)]);
    const typed = new Date(now() + ahead);
    try {
      const answer = await post(form.action, fields);
      if (answer.redirected) {
        location.assign(answer.url);
        return;
      }
      const text = await answer.text();
      if (answer.status === 422) {
        document.open();
        document.write(text);
        document.close();
        return;
      }
      throw new Error(String(answer.status));
    } catch (error) {
      if (/^[45]\d\d$/.test(error.message) && error.message !== "503" && error.message !== "401") {
        delete form.dataset.sending;
        form.submit();
        return;
      }
      const list = kept();
      list.push({ action: new URL(form.action).pathname, fields, person: form.dataset.kept, typed: moment(typed) });
      if (!keep(list)) {
        delete form.dataset.sending;
        show("kept", "The kitchen's machine cannot be reached, and this device cannot keep what was typed. Write it on paper.");
        return;
      }
      delete form.dataset.sending;
      form.reset();
      form.querySelectorAll("input[name=key]").forEach((key) => (key.value = newKey()));
      tellKept();
      document.getElementById("now").scrollIntoView();
    }
  });
  const newKey = () => {
    const bytes = new Uint8Array(16);
    crypto.getRandomValues(bytes);
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  };

  let sending = false;
  const sendKept = async (news) => {
    const list = kept().filter((one) => !one.wrong);
    if (sending || list.length === 0) return;
    if (!news.signed_in) return tellKept("Sign in to send them.");
    sending = true;
    let booked = 0;
    try {
      for (const one of list) {
        if (one.person !== news.person) continue;
        const fields = one.fields.filter(([name]) => name !== "token" && name !== "kept").map((field) => [...field]);
        const at = fields.find(([name]) => name === "at");
        if (!at) fields.push(["at", one.typed]);
        else if (!at[1]) at[1] = one.typed;
        fields.push(["token", news.token], ["kept", "1"]);
        const answer = await post(one.action, fields);
        if (answer.redirected && new URL(answer.url).searchParams.has("booked")) {
          keep(kept().filter((other) => keyOf(other) !== keyOf(one)));
          ++booked;
        } else if (answer.status === 422) {
          keep(kept().map((other) => (keyOf(other) === keyOf(one) ? { ...other, wrong: fields } : other)));
        } else {
          throw new Error(String(answer.status));
        }
      }
      tellKept(list.some((one) => one.person !== news.person) ? "Some were typed by somebody else: they are sent when that person signs in." : undefined);
      if (booked && kept().length === 0) show("kept", "What was kept on this device is booked now, marked as late.");
      if (booked) show("fresh");
    } catch {
      tellKept();
    } finally {
      sending = false;
    }
  };

  // News.
  let heard = now();
  let gone = false;
  let ahead = 0;
  const pageNow = Number(body.dataset.now || 0);
  if (pageNow) ahead = pageNow - now();
  let head = body.dataset.head;

  // The parts of this page that tell of now. Only what differs is changed, so that the keyboard stays where it is and only what is new is read
  // aloud.
  const liveEvery = 15000;
  const triedAgainAfter = 6000;
  const isLive = document.querySelector("[data-live]") !== null;
  let looked = now();
  let tried = now();
  // What a page says outside of its live parts and forms: when that differs, somebody has to open it again.
  const rest = (main) => {
    const copy = main.cloneNode(true);
    copy.querySelectorAll("[data-live], form, .booked").forEach((part) => part.remove());
    return copy.textContent;
  };
  const restAtFirst = isLive ? rest(document.getElementById("main")) : "";
  const bringUpToDate = (here, fresh) => {
    if (here.isEqualNode(fresh)) return;
    if (here.nodeType !== fresh.nodeType || here.nodeName !== fresh.nodeName || here.childNodes.length !== fresh.childNodes.length) {
      here.replaceWith(document.importNode(fresh, true));
      return;
    }
    if (here.nodeType !== Node.ELEMENT_NODE) {
      here.nodeValue = fresh.nodeValue;
      return;
    }
    for (const { name } of [...here.attributes]) if (name !== "open" && !fresh.hasAttribute(name)) here.removeAttribute(name);
    for (const { name, value } of fresh.attributes) if (name !== "open" && here.getAttribute(name) !== value) here.setAttribute(name, value);
    const inside = [...fresh.childNodes];
    [...here.childNodes].forEach((child, at) => bringUpToDate(child, inside[at]));
  };
  const lookAgain = async () => {
    tried = now();
    try {
      const answer = await fetch(location.href, { credentials: "same-origin", headers: { "X-By-Itself": "1" }, signal: AbortSignal.timeout(5000) });
      if (!answer.ok || answer.redirected) return;
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      for (const part of document.querySelectorAll("[data-live]")) {
        const fresh = page.getElementById(part.id);
        if (fresh) bringUpToDate(part, fresh);
      }
      head = page.body.dataset.head;
      looked = tried;
      if (rest(page.getElementById("main")) !== restAtFirst) show("fresh");
    } catch {
      // looked for again in a moment; what is too old says so
    }
  };

  const stale = () => {
    const old = now() - (isLive ? Math.min(heard, looked) : heard) > staleAfter;
    show("stale", old ? undefined : false);
    document.querySelectorAll(".needs-fresh").forEach((button) => (button.disabled = old || gone));
  };
  let asking = false;
  const ask = async () => {
    if (asking) return;
    asking = true;
    try {
      const answer = await fetch("/news", { credentials: "same-origin", signal: AbortSignal.timeout(5000) });
      if (!answer.ok) throw new Error(String(answer.status));
      const news = await answer.json();
      heard = now();
      ahead = news.now - heard;
      const troubles = document.getElementById("troubles");
      const lines = news.troubles.map((words) => {
        const line = document.createElement("li");
        line.textContent = words;
        return line;
      });
      if (troubles.textContent !== news.troubles.join("")) troubles.replaceChildren(...lines);
      troubles.hidden = lines.length === 0;
      gone = !news.signed_in;
      if (gone) {
        show("fresh", "Nobody is signed in here any more: open the page again to go on.");
      } else if (isLive) {
        if ((news.head !== head && (looked >= tried || now() - tried >= triedAgainAfter)) || now() - tried >= liveEvery) await lookAgain();
      } else if (news.head === head) {
        document.querySelectorAll("input[name=seen]").forEach((seen) => (seen.value = `${head.split(":")[0]}:${news.now}`));
      } else if (news.head) {
        show("fresh");
      }
      await sendKept(news);
    } catch {
      if (kept().length) tellKept();
    }
    asking = false;
    stale();
  };
  if (document.getElementById("now")) {
    if (kept().length) tellKept();
    setInterval(ask, every);
    setInterval(stale, 1000);
  }
})();
