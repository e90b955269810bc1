//! What people do on the screens, without a browser.

mod wall;
