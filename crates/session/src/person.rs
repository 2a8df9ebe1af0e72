//! Who is at the bench.

/// The name that entries are written under unless one is given: `JIGTRUE_BY`, else the login name.
///
/// `None` if neither is known; then it must be asked for.
pub fn default_name() -> Option<String> {
    ["JIGTRUE_BY", "USER", "LOGNAME", "USERNAME"]
        .into_iter()
        .filter_map(|key| std::env::var(key).ok())
        .map(|name| name.trim().to_owned())
        .find(|name| !name.is_empty())
}
