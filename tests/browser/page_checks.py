"""What the browser tests look for on any page."""

import base64
import re
import time

LEAST_TYPE, LEAST_TARGET = 10.0, 44  # [px]
LOADED = 100.0  # [s] in which any page is there, on a machine that is busy with other work
SETTLED = 3.0  # [s] in which charts have followed a window of another size


def go(browser, address):
    """Open an address and wait until the page asks to be looked at: it is another than before, and complete.

    The driver's own waiting misses the end of a load now and then where the page writes into its address meanwhile: it
    then waits for five minutes with the page long there (2 of 360 loads of the board on a busy machine).
    """
    browser.execute_script("window.left = true")
    browser.get(address)
    until = time.monotonic() + LOADED
    while not there(browser):
        assert time.monotonic() < until, f"{address} is not there after {LOADED:.0f} s"
        time.sleep(0.02)


def there(browser):
    """Whether another page than the one that was left is complete."""
    from selenium.common.exceptions import WebDriverException

    try:
        return browser.execute_script("return !window.left && document.readyState === 'complete'")
    except WebDriverException:  # between two pages there is none to ask
        return False


def visible_text(browser, selector):
    """Text a reader sees in an element."""
    return browser.find_element("css selector", selector).text


def fits_width(browser):
    """Whether nothing makes the page itself scroll sideways, once charts have followed the window's size."""
    until = time.monotonic() + SETTLED
    while not browser.execute_script("return document.documentElement.scrollWidth <= window.innerWidth"):
        if time.monotonic() > until:
            return False
        time.sleep(0.05)
    return True


def printed_pages(browser):
    """Number of A4 pages the page prints on."""
    printed = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", base64.b64decode(printed["data"])))


TYPE_SIZES = """
  const seen = (e) => e.getClientRects().length && getComputedStyle(e).visibility !== 'hidden';
  const found = [];
  for (const e of document.querySelectorAll('main *, header *, footer *')) {
    const words = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    if (!words || !seen(e)) continue;
    const size = parseFloat(getComputedStyle(e).fontSize), drawn = e.ownerSVGElement ? e.getScreenCTM() : null;
    found.push([e.parentNode.textContent.trim().slice(0, 40), size * (drawn ? Math.hypot(drawn.a, drawn.b) : 1)]);
  }
  return found;"""
CLIPPED = """
  const wide = document.documentElement.clientWidth;
  return [...document.querySelectorAll('main *, header *, footer *')].filter((e) => {
    const box = e.getBoundingClientRect();
    if (!box.width || e.closest('.unseen, .skip') || e.closest('#chart-odds') || e.closest('[hidden]')) return false;
    const drawn = e.tagName === 'svg' || e.ownerSVGElement, flow = getComputedStyle(e).overflowX;
    const wider = !drawn && e.scrollWidth > e.clientWidth + 1 && flow !== 'visible';
    return box.left < -1 || box.right > wide + 1 || wider;
  }).map((e) => e.id || e.tagName + ' ' + e.textContent.slice(0, 30));"""
TARGETS = """
  const small = (e) => e.offsetHeight < arguments[0] || e.offsetWidth < arguments[0];
  return [...document.querySelectorAll('button, select, summary, nav a, input')]
    .filter((e) => e.offsetHeight && small(e)).map((e) => [e.id || e.textContent, e.offsetHeight, e.offsetWidth]);"""


def small_type(browser):
    """[(text, size [px])] of what is drawn in smaller type than LEAST_TYPE, drawings at the size they are shown in."""
    sizes = browser.execute_script(TYPE_SIZES)
    assert len(sizes) > 100
    return [found for found in sizes if found[1] < LEAST_TYPE]


def small_targets(browser):
    """Names of buttons, links and fields that a wet finger would miss."""
    return browser.execute_script(TARGETS, LEAST_TARGET)
