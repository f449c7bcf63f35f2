//! What the program is made of besides itself: licenses, sources, versions, the compiler they need. The rules
//! stand in `deny.toml`; cargo-deny reads the same ones where it is installed.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "what a test reads and writes is its own")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use serde::Deserialize;
use serde_json::Value;

/// What `cargo metadata` tells.
#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    license: Option<String>,
    source: Option<String>,
    rust_version: Option<String>,
}

/// What is read of `deny.toml`.
#[derive(Deserialize)]
struct Rules {
    licenses: Licenses,
    sources: Sources,
    bans: Bans,
}

#[derive(Deserialize)]
struct Licenses {
    allow: Vec<String>,
}

#[derive(Deserialize)]
struct Sources {
    #[serde(rename = "allow-registry")]
    registries: Vec<String>,
}

#[derive(Deserialize)]
struct Bans {
    skip: Vec<Skip>,
}

/// A version that may be there beside a newer one.
#[derive(Deserialize)]
struct Skip {
    #[serde(rename = "crate")]
    id: String,
    reason: String,
}

#[test]
fn every_license_is_one_that_is_allowed() {
    let allow = rules().licenses.allow;
    let allowed: Vec<spdx::Licensee> = allow.iter().map(|name| spdx::Licensee::parse(name).unwrap()).collect();
    let mut used = BTreeSet::new();
    for package in packages() {
        let written = package.license.as_deref().unwrap_or_else(|| panic!("{} names no license", package.name));
        let license = spdx::Expression::parse_mode(written, spdx::ParseMode::LAX);
        let license = license.unwrap_or_else(|error| panic!("{}: {written}: {error}", package.name));
        let mut is_allowed = |asked: &spdx::LicenseReq| {
            let at = allowed.iter().position(|own| own.satisfies(asked));
            used.extend(at);
            at.is_some()
        };
        // Not at the first that will do: also the other side of an OR counts as used.
        assert!(license.evaluate(&mut is_allowed), "{} {}: {written}", package.name, package.version);
    }
    let idle: Vec<&String> =
        allow.iter().enumerate().filter(|(at, _)| !used.contains(at)).map(|(_, name)| name).collect();
    assert_eq!(idle, [""; 0], "nothing has these licenses: take them out of deny.toml");
}

#[test]
fn everything_comes_from_the_registry() {
    let registries = rules().sources.registries;
    for package in packages().iter().filter(|package| package.name != env!("CARGO_PKG_NAME")) {
        let source = package.source.as_deref().unwrap_or("a folder");
        let registry = source.strip_prefix("registry+").unwrap_or(source);
        assert!(registries.iter().any(|known| known == registry), "{} comes from {source}", package.name);
    }
}

/// Of the lock file, which has the crates for all systems.
#[test]
fn two_versions_of_a_crate_have_a_reason() {
    let skips = rules().bans.skip;
    let mut versions: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (name, version) in locked() {
        versions.entry(name).or_default().push(version);
    }
    versions.retain(|_, versions| versions.len() > 1);
    let is_of = |skip: &Skip, name: &str, version: &str| {
        let (of, from) = skip.id.split_once('@').unwrap();
        of == name && version.strip_prefix(from).is_some_and(|rest| rest.starts_with('.'))
    };
    for (name, versions) in &versions {
        let told = versions.iter().filter(|version| skips.iter().any(|skip| is_of(skip, name, version))).count();
        assert!(versions.len() - told <= 1, "{name} is there as {versions:?}: choose one, or say why in deny.toml");
    }
    for skip in &skips {
        assert!(skip.reason.len() > 5, "{} has no reason", skip.id);
        let is_needed = versions.iter().any(|(name, all)| all.iter().any(|version| is_of(skip, name, version)));
        assert!(is_needed, "{} is there once: take it out of deny.toml", skip.id);
    }
}

/// The compiler that Cargo.toml promises is enough for all, and not newer than one of them needs.
#[test]
fn the_promised_compiler_is_the_one_that_the_dependencies_need() {
    let packages = packages();
    let own = parts(env!("CARGO_PKG_RUST_VERSION"));
    let others = packages.iter().filter(|package| package.name != env!("CARGO_PKG_NAME"));
    let needs = others.filter_map(|package| Some((parts(package.rust_version.as_deref()?), &package.name)));
    let (most, name) = needs.max().unwrap();
    assert!(most <= own, "{name} needs Rust {most:?}, Cargo.toml promises {own:?}");
    assert_eq!(most, own, "{name} needs the newest Rust of all: Cargo.toml can promise that");
}

/// What `.ci/package` puts beside the program.
#[test]
fn the_bill_of_materials_names_all_that_the_program_is_made_of() {
    if !root().join(".ci/sbom.py").exists() {
        return skipped("this is no checkout, where .ci is: the bill of materials");
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sbom.json");
    let made = Command::new("python3").arg(root().join(".ci/sbom.py")).arg(&path).current_dir(root()).output();
    let Ok(made) = made else { return skipped("no python3: the bill of materials") };
    let said = String::from_utf8_lossy(&made.stderr);
    if said.contains("--offline was specified") {
        return skipped("not all crates are on this machine: the bill of materials");
    }
    assert!(made.status.success(), "{said}");
    let bill: Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    assert_eq!((&bill["bomFormat"], &bill["specVersion"]), (&"CycloneDX".into(), &"1.6".into()));
    assert_eq!(bill["metadata"]["component"]["name"], env!("CARGO_PKG_NAME"));

    let components = bill["components"].as_array().unwrap();
    let named: BTreeSet<String> =
        components.iter().map(|one| format!("{} {}", text(&one["name"]), text(&one["version"]))).collect();
    assert_eq!(named.len(), components.len(), "each once");
    let linked = linked();
    assert!(linked.len() > 50, "{linked:?}");
    assert_eq!(named, linked);

    let mut references: BTreeSet<&str> = components.iter().map(|one| text(&one["bom-ref"])).collect();
    references.insert(text(&bill["metadata"]["component"]["bom-ref"]));
    let checksums = checksums();
    for one in components {
        assert!(text(&one["purl"]).starts_with("pkg:cargo/"), "{one}");
        assert!(spdx::Expression::parse(text(&one["licenses"][0]["expression"])).is_ok(), "{one}");
        let sum = text(&one["hashes"][0]["content"]);
        assert_eq!(
            Some(sum),
            checksums.get(&format!("{} {}", text(&one["name"]), text(&one["version"]))).map(|s| &**s)
        );
    }
    for edge in bill["dependencies"].as_array().unwrap() {
        let ends = edge["dependsOn"].as_array().unwrap().iter().map(text).chain([text(&edge["ref"])]);
        for end in ends {
            assert!(references.contains(end), "{end} is no component");
        }
    }
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// `name version` of all that the program is made of here, as Cargo itself tells it.
fn linked() -> BTreeSet<String> {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(["tree", "--locked", "--offline", "--edges", "normal", "--prefix", "none", "--format", "{p}"]);
    let output = cargo.current_dir(root()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let lines = String::from_utf8(output.stdout).unwrap();
    let words = lines.lines().map(|line| line.split_whitespace().take(2).collect::<Vec<_>>());
    let crates = words.filter(|words| words.first().is_some_and(|name| *name != env!("CARGO_PKG_NAME")));
    crates.map(|words| format!("{} {}", words[0], words[1].trim_start_matches('v'))).collect()
}

/// All packages for all systems; where their sources are not all on the machine, those for this system.
fn packages() -> Vec<Package> {
    let metadata = |more: &[&str]| {
        let mut cargo = Command::new(env!("CARGO"));
        cargo.args(["metadata", "--format-version", "1", "--locked", "--offline"]).args(more).current_dir(root());
        let output = cargo.output().unwrap();
        let told = serde_json::from_slice::<Metadata>(&output.stdout).map(|metadata| metadata.packages);
        told.map_err(|_| String::from_utf8_lossy(&output.stderr).into_owned())
    };
    metadata(&[]).unwrap_or_else(|_| {
        skipped("crates for other systems are not on this machine: what is to be held of them");
        metadata(&["--filter-platform", &host()]).unwrap()
    })
}

/// This system, as rustc calls it.
fn host() -> String {
    let output = Command::new("rustc").arg("-vV").output().unwrap();
    let told = String::from_utf8(output.stdout).unwrap();
    told.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

/// Name and version of each package of the lock file.
fn locked() -> Vec<(String, String)> {
    let lock = lock();
    let packages = lock["package"].as_array().unwrap().iter();
    let word = |package: &toml::Value, name: &str| package[name].as_str().unwrap().to_owned();
    packages.map(|package| (word(package, "name"), word(package, "version"))).collect()
}

/// The checksum of each `name version` of the lock file.
fn checksums() -> BTreeMap<String, String> {
    let lock = lock();
    let word = |package: &toml::Value, name: &str| Some(package.get(name)?.as_str()?.to_owned());
    let sum = |package| {
        Some((format!("{} {}", word(package, "name")?, word(package, "version")?), word(package, "checksum")?))
    };
    lock["package"].as_array().unwrap().iter().filter_map(sum).collect()
}

fn lock() -> toml::Table {
    fs::read_to_string(root().join("Cargo.lock")).unwrap().parse().unwrap()
}

fn rules() -> Rules {
    toml::from_str(&fs::read_to_string(root().join("deny.toml")).unwrap()).unwrap()
}

fn parts(version: &str) -> Vec<u32> {
    let mut parts: Vec<u32> = version.split('.').map(|part| part.parse().unwrap()).collect();
    parts.resize(3, 0);
    parts
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn skipped(what: &str) {
    let _ = writeln!(std::io::stderr(), "skipped: {what}");
}
