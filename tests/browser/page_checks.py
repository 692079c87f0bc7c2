"""What the browser tests look for on any page."""

import base64
import re


def visible_text(browser, selector):
    """Text a reader sees in an element."""
    return browser.find_element("css selector", selector).text


def fits_width(browser):
    """Whether nothing makes the page itself scroll sideways."""
    return browser.execute_script("return document.documentElement.scrollWidth <= window.innerWidth")


def printed_pages(browser):
    """Number of A4 pages the page prints on."""
    printed = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", base64.b64decode(printed["data"])))
