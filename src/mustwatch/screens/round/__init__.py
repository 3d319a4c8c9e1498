"""The daily round: batch list, detail pane and reading form on one screen."""
