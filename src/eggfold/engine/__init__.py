"""What is computed: pure functions of numbers."""
