"""What a browser makes of a shop sheet: sheet.py PAGE [FOLDER-FOR-PICTURES]."""

import os
import pathlib
import sys

from chrome import Page, skip_without_browser

skip_without_browser()
page_path = pathlib.Path(sys.argv[1]).resolve()
pictures = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else None
url = page_path.as_uri()
failures = []


def holds(what, is_so, told=""):
    print(("ok: " if is_so else "FAILED: ") + what + (f" ({told})" if told != "" else ""))
    if not is_so:
        failures.append(what)


def look(name, **how):
    if pictures:
        page.picture(os.path.join(pictures, name + ".png"), **how)


page = Page()
page.size(1280, 900)
page.open(url)
has_model = page.run("!!document.getElementById('model')")
look("wide")
look("wide-whole", whole=True)

holds("a harmful name is only a name", page.run("document.title") != "harm")
holds("the page has one main and a language", page.run("document.querySelectorAll('main').length === 1 && document.documentElement.lang === 'en'"))

# Ticks.
ticks = page.run("document.querySelectorAll('input[data-tick]').length")
holds("there are boxes", ticks > 0, ticks)
page.run("document.querySelectorAll('input[data-tick]')[1].click()")
page.reload()
kept = page.run("Array.from(document.querySelectorAll('input[data-tick]')).map(box => box.checked)")
holds("a tick survives a reload, and no other is there", kept[1] and sum(kept) == 1, kept[:4])
page.run("document.getElementById('reset').click()")
holds("clearing asks first", len(page.dialogs) == 1, page.dialogs)
page.reload()
holds("cleared is cleared", page.run("document.querySelectorAll('input[data-tick]:checked').length") == 0)

# Dark and light.
page.scheme("dark")
dark = page.run("getComputedStyle(document.body).backgroundColor")
look("dark")
page.scheme("light")
light = page.run("getComputedStyle(document.body).backgroundColor")
page.run("document.getElementById('theme').click()")
chosen = page.run("getComputedStyle(document.body).backgroundColor")
holds("dark by the system and by choice are the same, light is another", dark == chosen != light, f"{dark} {light}")
page.reload()
holds("the choice survives a reload", page.run("getComputedStyle(document.body).backgroundColor") == dark)
page.run("document.getElementById('theme').click()")

# Phone.
page.size(360, 740, sharp=2, is_phone=True)
page.reload()
wide = page.run("[document.documentElement.scrollWidth, document.documentElement.clientWidth, innerWidth]")
holds("at 360 px nothing scrolls sideways", wide[0] <= wide[1] and wide[2] == 360, wide)
small = page.run(
    "Array.from(document.querySelectorAll('button, input[type=checkbox], select')).filter(one => one.offsetParent)"
    ".map(one => (one.closest('label') || one).getBoundingClientRect()).filter(box => box.width < 40 || box.height < 40).length"
)
holds("what is to be touched is at least 40 px", small == 0, small)
look("phone")
look("phone-whole", whole=True)

# The view in space.
page.size(1280, 900)
page.reload()
if has_model:
    holds("the view is there, its stand-in is not", page.run("!document.getElementById('view-box').hidden && document.getElementById('view-flat').hidden"))
    page.run("document.getElementById('view-box').scrollIntoView({block: 'center', behavior: 'instant'})")
    page.run("new Promise(done => setTimeout(done, 300))")
    look("view")
    frame = page.run("(() => { const b = document.getElementById('view-canvas').getBoundingClientRect(); return [b.left, b.top, b.width, b.height]; })()")
    told = lambda: page.run("document.getElementById('view-told').textContent")
    marked = lambda: page.run("Array.from(document.querySelectorAll('tr.marked')).map(row => row.dataset.layers)")
    found = {}
    for step in range(20, 85, 5):
        page.click(frame[0] + frame[2] / 2, frame[1] + frame[3] * step / 100)
        layer = page.run("document.getElementById('view-layer').value")
        if layer:
            found[layer] = marked()
    holds("a tap marks the row whose layers have the piece's layer", any(found.values()) and all(
        not rows or (len(rows) == 1 and layer in rows[0].split("\n")) for layer, rows in found.items()), found)
    layer = next(layer for layer, rows in found.items() if rows)
    page.run(f"(() => {{ const s = document.getElementById('view-layer'); s.value = {layer!r}; s.dispatchEvent(new Event('change')); }})()")
    holds("what was picked is told in words", len(told()) > 5, told())
    look("picked")
    page.run("document.getElementById('view-go').click()")
    holds("the way to the row leads to it", page.run("document.activeElement.classList.contains('marked')"))
    page.run("document.querySelector('button.shows').click()")
    holds("the way back leads to the view", page.run("document.activeElement.id === 'view-canvas'") and len(marked()) == 1)
    pixels = lambda: page.run(
        "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => {"
        "const from = document.getElementById('view-canvas'), to = document.createElement('canvas');"
        "to.width = 80; to.height = 60; window.dispatchEvent(new Event('resize'));"
        "requestAnimationFrame(() => { const c = to.getContext('2d'); c.drawImage(from, 0, 0, 80, 60);"
        "done(Array.from(c.getImageData(0, 0, 80, 60).data).join(' ')); }); })))"
    )
    page.run("document.getElementById('view-home').click()")
    whole = pixels()
    holds("something is drawn", len(set(zip(*[iter(whole.split())] * 4))) > 8)
    page.run("document.getElementById('view-section').click()")
    section = pixels()
    look("section")
    page.run("document.getElementById('view-section').click()")
    page.run("(() => { const s = document.getElementById('view-explode'); s.value = 80; s.dispatchEvent(new Event('input')); })()")
    apart = pixels()
    look("apart")
    page.run("document.getElementById('view-home').click()")
    page.run("document.getElementById('view-canvas').dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowLeft'}))")
    turned = pixels()
    page.run("document.getElementById('view-home').click()")
    look("home")
    holds("section, pulling apart and turning are seen, and setting back takes them away",
          len({whole, section, apart, turned}) == 4 and pixels() == whole, [hash(one) for one in (whole, section, apart, turned, pixels())])
    if not page.run("document.getElementById('view-lid').hidden"):
        page.run("document.getElementById('view-lid').click()")
        holds("the lid can be hidden", pixels() != whole)
        look("no-lid")
        page.run("document.getElementById('view-home').click()")

# Paper.
printed = page.paper(pictures and os.path.join(pictures, "print.pdf"))
chapters = page.run("document.querySelectorAll('.chapter').length")
sheets = printed.count(b"/Type /Page\n") + printed.count(b"/Type /Page>") + printed.count(b"/Type /Page ")
holds("each chapter is printed on a page of its own", sheets >= chapters or sheets == 0, f"{sheets} pages, {chapters} chapters")

holds("the console has no complaint", not page.console, page.console)
strange = [asked for asked in page.requests if asked not in (url, "about:blank") and not asked.startswith("data:")]
holds("no request leaves the file", not strange, strange)
page.close()

# Where storage is denied and space cannot be drawn.
page = Page(has_webgl=False)
page.call("Page.addScriptToEvaluateOnNewDocument", source="Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied'); } });")
page.open(url)
page.run("document.querySelector('input[data-tick]').click()")
holds("ticks work where storage is denied", page.run("document.querySelectorAll('tr.done').length") == 1)
if has_model:
    holds("without WebGL a sentence stands for the view, with the elevation",
          page.run("document.getElementById('view-box').hidden && !document.getElementById('view-flat').hidden && !!document.querySelector('#cover figure')"))
    look("flat")
holds("nothing fails there", not [said for said in page.console if "denied" in said or "TypeError" in said], page.console)
page.close()
sys.exit(1 if failures else 0)
