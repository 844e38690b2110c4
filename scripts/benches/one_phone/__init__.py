"""What `scripts/bench phone` measures with: cold starts, a slower processor, figures beside their aims."""
