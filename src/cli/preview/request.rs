//! What a browser asks, read with suspicion: any page on the web can make a browser ask this machine something.

/// Most bytes of a request that are read.
pub(super) const SIZE_LIMIT: usize = 16 << 10;

/// What is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wanted {
    /// The page.
    Page,
    /// To be told of each new version after this one.
    Events {
        /// The version that is known.
        since: Option<u64>,
    },
}

/// Why nothing is given: status and reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Refused(pub(super) u16, pub(super) &'static str);

/// What the head of a request wants, if it may have it.
///
/// # Errors
/// [`Refused`]: not HTTP, another method than GET, another host than this machine (a name on the web that was made to lead
/// here), a page of another origin that asks, nothing of that name.
pub(super) fn wanted(head: &[u8], port: u16) -> Result<Wanted, Refused> {
    let no_http = Refused(400, "this is not HTTP");
    let head = std::str::from_utf8(head).map_err(|_| no_http)?;
    let mut lines = head.split("\r\n");
    let mut first = lines.next().unwrap_or("").split(' ');
    let (Some(method), Some(target), Some(version), None) = (first.next(), first.next(), first.next(), first.next())
    else {
        return Err(no_http);
    };
    if version != "HTTP/1.1" && version != "HTTP/1.0" {
        return Err(no_http);
    }
    let mut headers = Vec::new();
    for line in lines.take_while(|line| !line.is_empty()) {
        let (name, value) = line.split_once(':').ok_or(no_http)?;
        headers.push((name.to_ascii_lowercase(), value.trim()));
    }
    let header =
        |wanted: &str| headers.iter().filter(|(name, _)| name == wanted).map(|(_, value)| *value).collect::<Vec<_>>();
    let here = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    match header("host")[..] {
        [host] if here.iter().any(|here| host.eq_ignore_ascii_case(here)) => {}
        _ => return Err(Refused(403, "this preview is for this machine alone")),
    }
    let is_ours =
        |origin: &&str| origin.strip_prefix("http://").is_some_and(|host| here.iter().any(|here| host == here));
    if !header("origin").iter().all(is_ours) {
        return Err(Refused(403, "another page may not read this preview"));
    }
    // A link on another page may lead here, as nothing is read by that page; all else of it may not.
    let site = header("sec-fetch-site");
    let is_own_way = site.iter().all(|site| ["same-origin", "none"].contains(site));
    let is_visit = header("sec-fetch-mode") == ["navigate"] && header("sec-fetch-dest") == ["document"];
    if !is_own_way && !is_visit {
        return Err(Refused(403, "another page may not read this preview"));
    }
    if method != "GET" {
        return Err(Refused(405, "only GET is answered"));
    }
    let (path, query) = target.split_once('?').unwrap_or((target, ""));
    match path {
        "/" => Ok(Wanted::Page),
        "/events" => {
            let known = header("last-event-id").first().copied();
            let since = known.or_else(|| query.split('&').find_map(|part| part.strip_prefix("since=")));
            Ok(Wanted::Events { since: since.and_then(|since| since.parse().ok()) })
        }
        _ => Err(Refused(404, "there is nothing of that name")),
    }
}

#[cfg(test)]
mod tests {
    use super::{Refused, Wanted, wanted};

    fn asked(first: &str, headers: &[&str]) -> Result<Wanted, u16> {
        let head = format!("{first}\r\n{}\r\n\r\n", headers.join("\r\n"));
        wanted(head.as_bytes(), 4780).map_err(|Refused(status, _)| status)
    }

    #[test]
    fn this_machine_gets_the_page_and_the_events() {
        for host in ["Host: 127.0.0.1:4780", "host: localhost:4780", "HOST:LOCALHOST:4780"] {
            assert_eq!(asked("GET / HTTP/1.1", &[host]), Ok(Wanted::Page), "{host}");
        }
        let events =
            |headers: &[&str]| asked("GET /events?since=7 HTTP/1.1", &[&["Host: 127.0.0.1:4780"], headers].concat());
        assert_eq!(events(&[]), Ok(Wanted::Events { since: Some(7) }));
        assert_eq!(events(&["Last-Event-ID: 9"]), Ok(Wanted::Events { since: Some(9) }));
        assert_eq!(
            events(&["Origin: http://127.0.0.1:4780", "Sec-Fetch-Site: same-origin"]),
            Ok(Wanted::Events { since: Some(7) })
        );
    }

    #[test]
    fn a_foreign_name_a_foreign_page_and_other_methods_are_refused() {
        for hosts in [
            &["Host: evil.example:4780"][..],
            &["Host: 127.0.0.1:4780.evil.example"],
            &["Host: 127.0.0.1"],
            &["Host: 127.0.0.1:4781"],
            &["Host: 127.0.0.1:4780", "Host: evil.example"],
            &["X: y"],
        ] {
            assert_eq!(asked("GET / HTTP/1.1", hosts), Err(403), "{hosts:?}");
        }
        let here = "Host: 127.0.0.1:4780";
        for origin in ["http://evil.example", "null", "https://127.0.0.1:4780", "http://127.0.0.1:8000"] {
            assert_eq!(asked("GET / HTTP/1.1", &[here, &format!("Origin: {origin}")]), Err(403), "{origin}");
        }
        assert_eq!(asked("GET / HTTP/1.1", &[here, "Sec-Fetch-Site: cross-site"]), Err(403));
        let frame = ["Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate", "Sec-Fetch-Dest: iframe"];
        assert_eq!(asked("GET / HTTP/1.1", &[&[here], &frame[..]].concat()), Err(403));
        let link = ["Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate", "Sec-Fetch-Dest: document"];
        assert_eq!(asked("GET / HTTP/1.1", &[&[here], &link[..]].concat()), Ok(Wanted::Page));
        for method in ["POST", "HEAD", "OPTIONS", "PUT", "get"] {
            assert_eq!(asked(&format!("{method} / HTTP/1.1"), &[here]), Err(405), "{method}");
        }
        for target in ["/etc/passwd", "/../", "//", "*", "http://127.0.0.1:4780/"] {
            assert_eq!(asked(&format!("GET {target} HTTP/1.1"), &[here]), Err(404), "{target}");
        }
        for first in ["", "GET /", "GET / HTTP/2", "GET  / HTTP/1.1", "GET / HTTP/1.1 x"] {
            assert_eq!(asked(first, &[here]), Err(400), "{first}");
        }
        assert_eq!(asked("GET / HTTP/1.1", &[here, "no header"]), Err(400));
        assert_eq!(wanted(b"\xff\xfe", 4780), Err(Refused(400, "this is not HTTP")));
    }
}
