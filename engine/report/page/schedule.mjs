// When each part of the page is drawn: what is in sight with the next frame, the rest a moment later, one part at a
// time, so that a slider never waits for what nobody sees.

const NEAR = 200;       // px around the window that count as in sight
const A_MOMENT = 120;   // ms

function inSight({element}) {
  const box = element.getBoundingClientRect();
  return box.bottom > -NEAR && box.top < window.innerHeight + NEAR;
}

export function makeSchedule() {
  const stale = new Set(), waiting = new Set();
  let sections = [], timer = 0;

  function draw(section) {
    stale.delete(section);
    section.update();
  }
  // `busy` on the page's element for as long as something is not up to date.
  function tell() {
    document.getElementById("page").toggleAttribute("data-busy", stale.size + waiting.size > 0);
  }
  function later(wait) {
    clearTimeout(timer);
    timer = setTimeout(() => {
      const next = sections.find((section) => stale.has(section));
      if (next) draw(next);
      if (stale.size) later(0);
      tell();
    }, wait);
  }
  function frame() {
    for (const section of sections)
      if (section.follows.some((kind) => waiting.has(kind))) stale.add(section);
    waiting.clear();
    for (const section of sections) if (stale.has(section) && inSight(section)) draw(section);
    if (stale.size) later(A_MOMENT);
    tell();
  }

  return {
    changed(kind) {
      if (!waiting.size) requestAnimationFrame(frame);
      waiting.add(kind);
      tell();
    },
    begin(all) {
      sections = all;
      // The title and the first screen now, the others when those are seen.
      sections.forEach((section, i) => (i < 2 ? section.update() : stale.add(section)));
      later(0);
      tell();
      const watch = new IntersectionObserver((entries) => {
        for (const entry of entries) {
          const section = sections.find(({element}) => element === entry.target);
          if (entry.isIntersecting && stale.has(section)) draw(section);
        }
        tell();
      }, {rootMargin: `${NEAR}px`});
      for (const {element} of sections.slice(2)) watch.observe(element);
      // Paper takes everything as it is now.
      window.addEventListener("beforeprint", () => [...stale].forEach(draw));
    },
  };
}
