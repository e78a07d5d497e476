//! One layout for sources.
use locknut_finding::Findings;
/// x
pub fn format(text: &str) -> Result<String, Findings> {
    Ok(text.to_owned())
}
