"""Chromium without a window, driven over its debugging protocol with Python's own library alone."""

import atexit
import base64
import json
import os
import shutil
import socket
import struct
import subprocess
import sys
import tempfile
import time
import urllib.request


def find():
    """The browser's path, or none."""
    for name in ("chromium", "chromium-browser", "google-chrome", "chrome"):
        path = shutil.which(name)
        if path:
            return path
    return None


class Socket:
    """As much of a web socket as a conversation with the browser needs (RFC 6455)."""

    def __init__(self, url):
        host, path = url.removeprefix("ws://").split("/", 1)
        name, port = host.split(":")
        self.stream = socket.create_connection((name, int(port)), timeout=60)
        key = base64.b64encode(os.urandom(16)).decode()
        head = (
            f"GET /{path} HTTP/1.1\r\nHost: {host}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
            f"Sec-WebSocket-Key: {key}\r\nSec-WebSocket-Version: 13\r\n\r\n"
        )
        self.stream.sendall(head.encode())
        self.rest = b""
        while b"\r\n\r\n" not in self.rest:
            self.rest += self.stream.recv(4096)
        self.rest = self.rest.split(b"\r\n\r\n", 1)[1]

    def take(self, count):
        while len(self.rest) < count:
            more = self.stream.recv(65536)
            if not more:
                raise EOFError("the browser has gone")
            self.rest += more
        taken, self.rest = self.rest[:count], self.rest[count:]
        return taken

    def send(self, text):
        data = text.encode()
        head = b"\x81"
        if len(data) < 126:
            head += struct.pack("!B", 0x80 | len(data))
        elif len(data) < 65536:
            head += struct.pack("!BH", 0x80 | 126, len(data))
        else:
            head += struct.pack("!BQ", 0x80 | 127, len(data))
        # Masked with zeros: nothing is hidden, all is as it must be.
        self.stream.sendall(head + b"\0\0\0\0" + data)

    def receive(self):
        message = b""
        while True:
            first, second = self.take(2)
            long = second & 127
            if long == 126:
                (long,) = struct.unpack("!H", self.take(2))
            elif long == 127:
                (long,) = struct.unpack("!Q", self.take(8))
            part = self.take(long)
            if first & 15 in (0, 1):
                message += part
                if first & 128:
                    return message.decode()


class Page:
    """One tab: what it says on its console and what it asks of the network is kept."""

    def __init__(self, has_webgl=True):
        self.folder = tempfile.mkdtemp(prefix="ringwright-browser-")
        gl = (
            ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"]
            if has_webgl
            else ["--disable-gpu", "--disable-3d-apis"]
        )
        self.process = subprocess.Popen(
            [find(), "--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--no-first-run",
             "--disable-background-networking", "--disable-component-update", "--hide-scrollbars",
             "--remote-debugging-port=0", f"--user-data-dir={self.folder}", *gl, "about:blank"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )
        # No browser stays behind when a script fails; one that has ended already minds nothing.
        atexit.register(self.process.kill)
        port = self.port()
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/json/list", timeout=30) as answer:
            tabs = json.load(answer)
        tab = next(tab for tab in tabs if tab["type"] == "page")
        self.socket = Socket(tab["webSocketDebuggerUrl"])
        self.number = 0
        self.console = []
        self.requests = []
        self.dialogs = []
        self.events = []
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")

    def port(self):
        place = os.path.join(self.folder, "DevToolsActivePort")
        for _ in range(600):
            if os.path.exists(place):
                with open(place, encoding="utf-8") as file:
                    first = file.readline().strip()
                if first:
                    return int(first)
            time.sleep(0.1)
        raise RuntimeError("the browser does not start")

    def heard(self, message):
        method, params = message.get("method"), message.get("params", {})
        if method == "Runtime.exceptionThrown":
            self.console.append(params["exceptionDetails"].get("exception", {}).get("description", "an exception"))
        elif method == "Runtime.consoleAPICalled" and params["type"] in ("error", "warning", "assert"):
            self.console.append(str([one.get("value") for one in params["args"]]))
        elif method == "Log.entryAdded" and params["entry"]["level"] in ("error", "warning"):
            text = params["entry"]["text"]
            # What the drawing on this machine without a graphics card says of itself.
            if "GPU stall" not in text and "software WebGL" not in text and "swiftshader" not in text.lower():
                self.console.append(text)
        elif method == "Network.requestWillBeSent":
            self.requests.append(params["request"]["url"])
        elif method == "Page.javascriptDialogOpening":
            self.dialogs.append(params["message"])
            self.number += 1
            answer = {"id": self.number, "method": "Page.handleJavaScriptDialog", "params": {"accept": True}}
            self.socket.send(json.dumps(answer))
        if method:
            self.events.append(method)

    def call(self, method, **params):
        self.number += 1
        number = self.number
        self.socket.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            message = json.loads(self.socket.receive())
            self.heard(message)
            if message.get("id") == number:
                if "error" in message:
                    raise RuntimeError(f"{method}: {message['error']}")
                return message["result"]

    def run(self, script):
        """The value of a script, awaited."""
        result = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True, userGesture=True)
        if "exceptionDetails" in result:
            raise RuntimeError(f"{script}: {result['exceptionDetails']}")
        return result["result"].get("value")

    def open(self, url):
        self.events.clear()
        self.call("Page.navigate", url=url)
        self.loaded()

    def reload(self):
        self.events.clear()
        self.call("Page.reload")
        self.loaded()

    def loaded(self):
        while "Page.loadEventFired" not in self.events:
            self.heard(json.loads(self.socket.receive()))
        self.run("new Promise(done => setTimeout(done, 60))")

    def size(self, wide, high, sharp=1, is_phone=False):
        self.call("Emulation.setDeviceMetricsOverride", width=wide, height=high, deviceScaleFactor=sharp, mobile=is_phone)

    def scheme(self, scheme):
        self.call("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])

    def picture(self, path, whole=False):
        self.run("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        shot = self.call("Page.captureScreenshot", format="png", captureBeyondViewport=whole)
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def paper(self, path=None):
        printed = base64.b64decode(self.call("Page.printToPDF", preferCSSPageSize=True, printBackground=False)["data"])
        if path:
            with open(path, "wb") as file:
                file.write(printed)
        return printed

    def click(self, x, y):
        for kind in ("mousePressed", "mouseReleased"):
            self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def close(self):
        try:
            self.call("Browser.close")
        except (EOFError, OSError):
            pass
        try:
            self.process.wait(timeout=20)
        except subprocess.TimeoutExpired:
            self.process.kill()
        shutil.rmtree(self.folder, ignore_errors=True)


def skip_without_browser():
    """Ends the script, loudly, where there is no browser."""
    if find() is None:
        print("skipped: no chromium on this machine")
        sys.exit(77)
