"""Where batches run: one `Executor` interface."""
