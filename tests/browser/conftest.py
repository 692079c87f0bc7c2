"""A real browser, offline: Debian's chromium by explicit paths. In CI its absence is a failure, elsewhere a skip."""

import os
from pathlib import Path

import pytest

from tests.browser.page_checks import go

CHROMIUM, DRIVER = Path("/usr/bin/chromium"), Path("/usr/bin/chromedriver")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
)  # fmt: skip
MISSING = (
    "the browser tests need /usr/bin/chromium and /usr/bin/chromedriver (apt-get install chromium chromium-driver)"
)


@pytest.fixture(scope="session")
def browser(tmp_path_factory):
    """One headless browser with the network switched off."""
    if not (CHROMIUM.exists() and DRIVER.exists()):
        if os.environ.get("CI"):
            pytest.fail(MISSING)
        pytest.skip(MISSING)
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = str(CHROMIUM)
    for flag in (*FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('profile')}"):
        options.add_argument(flag)
    options.page_load_strategy = "none"  # see `go`
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(str(DRIVER)))
    driver.execute_cdp_cmd("Network.enable", {})
    offline = {"offline": True, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0}
    driver.execute_cdp_cmd("Network.emulateNetworkConditions", offline)
    yield driver
    driver.quit()


UNTOUCHED = []  # address of the page that is open, where no test has changed it since it was loaded


@pytest.fixture
def opened(browser):
    """Function: open a page file at a window size and ground; the console must stay silent until the test
    ends. A test that only looks says anew=False: a page that no test has touched since it was loaded is not loaded
    again. What a page has stored is forgotten before it is loaded, unless the test is about that.
    """

    def open_page(path, *, width=1280, height=900, dark=False, anew=True, forget=True):
        metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
        address = Path(path).as_uri()
        if anew or UNTOUCHED != [address]:
            if forget and browser.current_url.startswith("file:"):
                browser.execute_script("localStorage.clear()")
            go(browser, address)
        UNTOUCHED[:] = [] if anew else [address]
        return browser

    browser.get_log("browser")
    yield open_page
    assert browser.get_log("browser") == []


@pytest.fixture(scope="session")
def pages(tmp_path_factory):
    """{name: path} of pages made from invented results, saved and read back as real ones are."""
    from seaload.files.result_file import write_result
    from seaload.report.board.page import board_page
    from seaload.report.read_answer import read_answer
    from seaload.report.run.page import run_page
    from seaload.report.shared.result_reading import open_result
    from seaload.report.sweep.page import sweep_page
    from tests.report.invented_result import invented_run, invented_sweep

    made = {}
    sweep = invented_sweep(ended={(4, 2)})
    folder = tmp_path_factory.mktemp("sweep")
    # pages alone: the figures beside them would only cost time
    made["sweep_report.html"] = folder / "report.html"
    result = open_result(write_result(sweep.isel(sea=[0, 4]), folder))
    made["sweep_report.html"].write_text(sweep_page(result, read_answer(result)), encoding="utf-8")
    folder = tmp_path_factory.mktemp("run")
    made["run_report.html"] = folder / "report.html"
    result = open_result(write_result(invented_run(), folder))
    made["run_report.html"].write_text(run_page(result, read_answer(result)), encoding="utf-8")
    folder = tmp_path_factory.mktemp("board")  # the board of all seas; their many figures would only cost time
    made["board_result"] = write_result(sweep, folder)
    made["board"] = folder / "board.html"
    result = open_result(made["board_result"])
    made["board"].write_text(board_page(result, read_answer(result)), encoding="utf-8")
    return made
