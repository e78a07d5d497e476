//! LN608: a connector is parted or joined while it is not dead.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A connector is parted or joined while it is not dead.
pub(crate) struct LiveConnector {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for LiveConnector {
    const PAGE: Page = page!("LN608", "ln608_live_connector.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} is handled while it is not dead: {}", self.thing, self.stands));
        say.label(self.act, format!("only where {}", self.wanted));
        say.path(&self.path);
        say.consequence("parting a live connector draws an arc; touching it can kill");
        say.fallback("make it dead before this line");
    }
}
